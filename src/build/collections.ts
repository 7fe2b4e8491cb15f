/**
 * What the parser's package asks of its collection of helpers, for the page: the same functions for the arrays, plain
 * objects and strings that it gives them, in a tenth of the size. tests/build holds them against the originals.
 */

type Bag = Record<string, unknown> | readonly unknown[] | string | null | undefined;
type Each = (value: unknown, key: never, whole: never) => unknown;
type Test = Each | string;

const isList = (of: Bag): of is readonly unknown[] | string => Array.isArray(of) || typeof of === "string";

/** Values with their places: indexes of a list, keys of an object. */
const entries = (of: Bag): (readonly [unknown, string | number])[] => {
  if (of === null || of === undefined) return [];
  if (isList(of)) return Array.from(of, (value, i) => [value, i]);
  return Object.keys(of).map((key) => [of[key], key]);
};
const call = (f: Each, value: unknown, key: string | number, whole: Bag): unknown =>
  f(value, key as never, whole as never);
const test = (f: Test): Each =>
  typeof f === "function" ? f : (value) => (value as Record<string, unknown> | undefined)?.[f];

export const assign = Object.assign;
export const isArray = Array.isArray;
export const identity = <T>(value: T): T => value;
export const noop = (): void => undefined;
export const isUndefined = (value: unknown): boolean => value === undefined;
export const isString = (value: unknown): boolean => typeof value === "string";
export const isFunction = (value: unknown): boolean => typeof value === "function";
export const isRegExp = (value: unknown): boolean => value instanceof RegExp;
export const isObject = (value: unknown): boolean =>
  (typeof value === "object" && value !== null) || typeof value === "function";
export const isEmpty = (of: unknown): boolean => entries(of as Bag).length === 0;

export const has = (of: unknown, key: string): boolean =>
  of !== null && of !== undefined && Object.hasOwn(of as object, key);
export const keys = (of: Bag): string[] => Object.keys(of ?? {});
export const values = (of: Bag): unknown[] => entries(of).map(([value]) => value);
export const clone = <T>(of: T): T => {
  if (Array.isArray(of)) return of.slice() as T;
  if (typeof of !== "object" || of === null) return of;
  return Object.assign(Object.create(Object.getPrototypeOf(of)), of);
};
export const defaults = (of: object | undefined, ...more: readonly object[]): object => {
  const whole: Record<string, unknown> = Object(of ?? {});
  for (const one of more)
    for (const [key, value] of Object.entries(one)) if (whole[key] === undefined) whole[key] = value;
  return whole;
};

/** A callback that gives `false` ends the walk. */
export const forEach = <T extends Bag>(of: T, f: Each): T => {
  for (const [value, key] of entries(of)) if (call(f, value, key, of) === false) break;
  return of;
};
export const map = (of: Bag, f: Test): unknown[] =>
  entries(of).map(([value, key]) => call(test(f), value, key, of));
export const filter = (of: Bag, f: Test): unknown[] =>
  entries(of).flatMap(([value, key]) => (call(test(f), value, key, of) ? [value] : []));
export const reject = (of: Bag, f: Test): unknown[] =>
  entries(of).flatMap(([value, key]) => (call(test(f), value, key, of) ? [] : [value]));
export const find = (of: Bag, f: Test): unknown =>
  entries(of).find(([value, key]) => call(test(f), value, key, of))?.[0];
export const some = (of: Bag, f: Test): boolean =>
  entries(of).some(([value, key]) => call(test(f), value, key, of));
export const every = (of: Bag, f: Test): boolean =>
  entries(of).every(([value, key]) => call(test(f), value, key, of));
export const reduce = (
  of: Bag,
  f: (sum: unknown, value: unknown, key: never, whole: never) => unknown,
  start?: unknown,
): unknown => {
  const each = entries(of);
  const [first, ...rest] = each;
  // Without a start the first value is it.
  const begun = start !== undefined || first === undefined;
  return (begun ? each : rest).reduce(
    (sum, [value, key]) => f(sum, value, key as never, of as never),
    begun ? start : first![0],
  );
};
export const includes = (of: Bag, value: unknown): boolean =>
  typeof of === "string" ? of.includes(String(value)) : values(of).includes(value);
export const indexOf = (of: readonly unknown[], value: unknown): number => of.indexOf(value);

export const first = (of: readonly unknown[] | undefined): unknown => of?.[0];
export const last = (of: readonly unknown[] | undefined): unknown => of?.at(-1);
export const drop = (of: readonly unknown[], n = 1): unknown[] => of.slice(n);
export const dropRight = (of: readonly unknown[], n = 1): unknown[] =>
  of.slice(0, Math.max(0, of.length - n));
export const compact = (of: readonly unknown[]): unknown[] => of.filter(Boolean);
export const flatten = (of: readonly unknown[]): unknown[] => of.flat();
export const flatMap = (of: Bag, f: Each): unknown[] => map(of, f).flat();
export const uniq = (of: readonly unknown[]): unknown[] => [...new Set(of)];
export const difference = (of: readonly unknown[], ...without: readonly (readonly unknown[])[]): unknown[] =>
  of.filter((value) => !without.some((w) => w.includes(value)));
export const pickBy = (of: Record<string, unknown>, f: (value: unknown) => unknown): object =>
  Object.fromEntries(Object.entries(of).filter(([, value]) => f(value)));
export const groupBy = (of: Bag, f: Test): Record<string, unknown[]> => {
  const groups: Record<string, unknown[]> = {};
  for (const [value, key] of entries(of)) {
    const group = String(call(test(f), value, key, of));
    groups[group] ??= [];
    groups[group].push(value);
  }
  return groups;
};
export const upperFirst = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
