import { asDifference, kinds, parseUnit, plainUnit, quotientUnit } from "../../quantity";
import {
  call,
  type Expression,
  minus,
  negated,
  number,
  operation,
  over,
  plus,
  range,
  scaled,
  text,
  times,
} from "../expression";
import { type Desk, listOf } from "./calls";
import { dayFunctions } from "./day-functions";
import { type Column, cellOf, columnOf, sumOverRows } from "./lists";
import { divide, inSI, inUnit } from "./quantities";
import {
  isEmpty,
  type ListTerm,
  NotLive,
  type QuantityTerm,
  quantityTerm,
  type Term,
  union,
  unlessMissing,
} from "./term";

/** Functions that work on values with units: totals, trials, rounding and choosing. */
export type ValueFunction = (args: readonly (Term | undefined)[], desk: Desk, each: Each) => Term;
export type Each = (terms: readonly Term[], f: (terms: readonly Term[]) => Term) => Term;

const quantityIn = (term: Term): QuantityTerm => {
  if (term.type === "quantity") return term;
  throw new NotLive("something else than a number is calculated with");
};
const isZero = (e: Expression): Expression => operation("=", e, number(0));
const counted = (column: Column): Expression => call("COUNT", column.cells);
/** A total of nothing is a gap. */
const noneThere = (column: Column, fewest = 1): readonly Expression[] =>
  column.gaps || column.length < fewest
    ? [fewest === 1 ? isZero(counted(column)) : operation("<", counted(column), number(fewest))]
    : [];

/** A total that is one function of a column, in the unit of its entries. */
const total =
  (name: "AVERAGE" | "MIN" | "MAX" | "MEDIAN", label: string): ValueFunction =>
  (args, desk) => {
    const column = columnOf(listOf(args[0]!), label, desk);
    const expression = call(name, column.cells);
    const missing = noneThere(column);
    if (column.holds === "date") return { type: "date", expression, missing };
    return quantityTerm(expression, column.unit!, missing, column.error);
  };

/** Results of repeated runs: their cells, and what a deviation of theirs is counted in. */
function runsOf(term: Term, label: string, desk: Desk) {
  const column = columnOf(listOf(term), label, desk);
  if (column.unit === undefined) throw new NotLive("the scatter of dates");
  return { column, unit: asDifference(column.unit), missing: noneThere(column, 2) };
}

const functions: Readonly<Record<string, ValueFunction>> = {
  sum(args, desk) {
    const list = listOf(args[0]!);
    const direct = sumOverRows(list);
    if (direct !== undefined) return quantityTerm(direct.expression, direct.unit, [], direct.error);
    const product = sumOfProducts(list);
    if (product !== undefined) return product;
    const column = columnOf(list, "to add up", desk);
    if (column.unit === undefined) throw new NotLive("a sum of dates");
    // Where rows are chosen, a sum of none is 0; where all are blank it is not known.
    const missing = list.chosen === undefined ? noneThere(column) : [];
    return quantityTerm(call("SUM", column.cells), column.unit, missing, column.error);
  },
  mean: total("AVERAGE", "to average"),
  smallest: total("MIN", "to compare"),
  largest: total("MAX", "to compare"),
  median: total("MEDIAN", "to order"),
  count(args, desk) {
    const list = listOf(args[0]!);
    if (list.block !== undefined && list.chosen === undefined) {
      const filled = call("SUMPRODUCT", ones(operation("<>", list.block, text(""))));
      return quantityTerm(filled, plainUnit, list.gaps ? [isZero(filled)] : []);
    }
    const column = columnOf(list, "to count", desk);
    const missing = list.chosen === undefined ? noneThere(column) : [];
    return quantityTerm(counted(column), plainUnit, missing);
  },
  standard_deviation(args, desk) {
    const { column, unit, missing } = runsOf(args[0]!, "run", desk);
    return quantityTerm(call("STDEV", column.cells), unit, missing, column.error);
  },
  relative_deviation(args, desk) {
    const { column, missing } = runsOf(args[0]!, "run", desk);
    const share = over(call("STDEV", column.cells), call("AVERAGE", column.cells));
    return quantityTerm(times(number(100), share), parseUnit("%"), missing, column.error);
  },
  mean_interval(args, desk) {
    const { column, missing } = runsOf(args[0]!, "run", desk);
    const n = counted(column);
    const step = (what: string, e: Expression): Expression => desk.working.step(desk.path, what, e, missing);
    const t = call("TINV", number(0.05), minus(n, number(1)));
    const half = step("half of the interval", over(times(t, call("STDEV", column.cells)), call("SQRT", n)));
    const mean = step("mean", call("AVERAGE", column.cells));
    const end = (e: Expression): Term =>
      quantityTerm(e, column.unit!, missing, Math.max(column.error, DISTRIBUTION));
    return {
      type: "record",
      parts: new Map([
        ["low", end(minus(mean, half))],
        ["high", end(plus(mean, half))],
      ]),
    };
  },
  compare_means(args, desk) {
    const a = runsOf(args[0]!, "first group", desk);
    const b = runsOf(args[1]!, "second group", desk);
    const missing = union(a.missing, b.missing);
    const step = (what: string, e: Expression): Expression => desk.working.step(desk.path, what, e, missing);
    // Both groups in the unit of the first.
    const factor = b.column.unit!.scale.v / a.column.unit!.scale.v;
    const inFirst = (e: Expression, power: number): Expression =>
      factor === 1 ? e : times(e, number(factor ** power));
    const n = [counted(a.column), counted(b.column)] as const;
    const va = step("variance of the first mean", over(call("VAR", a.column.cells), n[0]));
    const vb = step("variance of the second mean", over(inFirst(call("VAR", b.column.cells), 2), n[1]));
    const variance = step("variance of the difference", plus(va, vb));
    const freedom = step(
      "degrees of freedom",
      over(
        operation("^", variance, number(2)),
        plus(
          over(operation("^", va, number(2)), minus(n[0], number(1))),
          over(operation("^", vb, number(2)), minus(n[1], number(1))),
        ),
      ),
    );
    const difference = step(
      "difference of the means",
      minus(call("AVERAGE", a.column.cells), inFirst(call("AVERAGE", b.column.cells), 1)),
    );
    const half = over(freedom, number(2));
    // Student's t for degrees that need not be whole, through the beta distribution (Abramowitz & Stegun 26.7.1).
    const place = step("beta quantile", call("BETAINV", number(0.05), half, number(0.5)));
    const t = step("t of 95 %", call("SQRT", times(freedom, minus(over(number(1), place), number(1)))));
    const reach = step("half of the interval", times(t, call("SQRT", variance)));
    const square = over(operation("^", difference, number(2)), variance);
    const chance = call("BETADIST", over(freedom, plus(freedom, square)), half, number(0.5));
    const part = (e: Expression): Term => quantityTerm(e, a.unit, missing, DISTRIBUTION);
    return {
      type: "record",
      parts: new Map<string, Term>([
        ["difference", quantityTerm(difference, a.unit, missing)],
        ["low", part(minus(difference, reach))],
        ["high", part(plus(difference, reach))],
        ["chance_alone", quantityTerm(times(number(100), chance), parseUnit("%"), missing, DISTRIBUTION)],
      ]),
    };
  },
  drift(args, desk) {
    const values = listOf(args[0]!);
    const column = columnOf(values, "run", desk);
    if (column.unit === undefined) throw new NotLive("the drift of dates");
    const unit = asDifference(column.unit);
    const given = args[1] === undefined ? undefined : listOf(args[1]);
    if (given === undefined) {
      const count = call("ROW", column.cells);
      return quantityTerm(call("SLOPE", column.cells, count), unit, noneThere(column, 2), column.error);
    }
    const by = columnOf(given, "along", desk);
    const halfFilled: Expression[] = [];
    if (column.gaps || by.gaps) {
      for (let i = 0; i < column.length; i++) {
        halfFilled.push(operation("<>", isEmpty(cellOf(column, i)), isEmpty(cellOf(by, i))));
      }
    }
    const missing = union(halfFilled, noneThere(column, 2));
    const slope = call("SLOPE", column.cells, by.cells);
    if (by.holds === "date") {
      const { unit: daily, factor } = quotientUnit(unit, parseUnit("d"));
      return quantityTerm(scaled(slope, factor.n, factor.d), daily, missing, column.error);
    }
    const { unit: each, factor } = quotientUnit(unit, asDifference(by.unit!));
    return quantityTerm(scaled(slope, factor.n, factor.d), each, missing, column.error);
  },
  recovered: mapped(2, ([got, charge]) => {
    const share = divide(quantityIn(got!), quantityIn(charge!));
    return share.unit.kind === kinds.plain ? inUnit(share, parseUnit("%")) : share;
  }),
  whole: mapped(1, ([x]) => rounding(x!, (e) => call("INT", plus(e, number(NEARLY))))),
  whole_up: mapped(1, ([x]) => rounding(x!, (e) => negated(call("INT", minus(number(NEARLY), e))))),
  round_to: mapped(2, ([x, step]) => {
    const q = quantityIn(x!);
    const by = quantityIn(step!);
    const size =
      q.unit.kind === kinds.temperature
        ? times(by.expression, number(by.unit.scale.v / q.unit.scale.v))
        : inUnit(by, q.unit).expression;
    // The hair of room lets what is half a step in decimals, but not in doubles, count as half.
    const marks = call("ROUND", times(over(q.expression, size), number(1 + 1e-12)), number(0));
    return quantityTerm(times(marks, size), q.unit, union(q.missing, by.missing), q.error);
  }),
  abs: mapped(1, ([x]) => rounding(x!, (e) => call("ABS", e))),
  sqrt: mapped(1, ([x]) => {
    const q = quantityIn(x!);
    if (q.unit.kind !== kinds.plain)
      throw new NotLive("the root of a quantity with a unit is not written out");
    return quantityTerm(call("SQRT", inSI(q)), plainUnit, q.missing, q.error);
  }),
  exp: mapped(1, ([x]) => ofPlain(x!, (e) => call("EXP", e))),
  ln: mapped(1, ([x]) => ofPlain(x!, (e) => call("LN", e))),
  log10: mapped(1, ([x]) => ofPlain(x!, (e) => call("LOG10", e))),
  first: (args) => ending(listOf(args[0]!), (list) => list.entry(0)),
  last: (args) => ending(listOf(args[0]!), (list) => list.entry(list.length - 1)),
  nearest(args, desk) {
    const x = quantityIn(args[1]!);
    const column = columnOf(listOf(args[0]!), "to choose from", desk);
    if (column.unit === undefined) throw new NotLive("the nearest of dates");
    const wanted = inUnit(x, column.unit).expression;
    const distances: Expression[] = [];
    for (let i = 0; i < column.length; i++) {
      const entry = cellOf(column, i);
      const distance = call("ABS", minus(entry, wanted));
      distances.push(column.gaps ? call("IF", isEmpty(entry), text(""), distance) : distance);
    }
    const away = desk.working.block(
      desk.path,
      distances.map((_, i) => `how far entry ${i + 1} is`),
      distances,
    );
    const at = call("MATCH", call("MIN", away), away, number(0));
    return quantityTerm(
      call("INDEX", column.cells, at),
      column.unit,
      union(x.missing, noneThere(column)),
      column.error,
    );
  },
  pick(args, desk, each) {
    const list = args[0]!;
    if (list.type !== "list" || list.origin === undefined)
      throw new NotLive("pick needs a column of a table");
    const { names, table } = list.origin;
    return each([args[1]!], ([name]) => {
      if (name!.type !== "text") throw new NotLive("pick needs the name of a row");
      if (name!.expression.type === "text") {
        const wanted = name!.expression.text.trim().toLowerCase();
        const row = names.findIndex((n) => n.trim().toLowerCase() === wanted);
        if (row < 0) throw new NotLive(`there is no row ${wanted}`);
        return list.entry(row);
      }
      const cells = desk.names(table);
      const first = list.entry(0);
      if (
        cells === undefined ||
        first.type === "record" ||
        first.type === "list" ||
        list.length !== names.length
      ) {
        throw new NotLive("the rows to pick from are no cells below each other");
      }
      const block = list.block ?? entriesInCells(list, desk);
      const place = desk.working.step(
        desk.path,
        "row of that name",
        call("MATCH", name!.expression, cells, number(0)),
        name!.missing,
      );
      const found = call("INDEX", block, place);
      const missing = list.gaps ? union(name!.missing, [isEmpty(found)]) : name!.missing;
      if (first.type === "quantity") return quantityTerm(found, first.unit, missing, first.error);
      if (first.type === "text" || first.type === "truth" || first.type === "date")
        return { ...first, expression: found, missing };
      throw new NotLive("what is picked is of no kind that a cell has");
    });
  },
  share_out(args, desk) {
    const list = listOf(args[0]!);
    const column = columnOf(list, "to share by", desk);
    const step = inUnit(quantityIn(args[1]!), parseUnit("%")).expression;
    if (column.unit === undefined) throw new NotLive("shares of dates");
    const missing = column.gaps ? [operation("<", counted(column), number(column.length))] : [];
    const cell = (what: string, e: Expression): Expression => desk.working.step(desk.path, what, e, missing);
    const total = cell("total", call("SUM", column.cells));
    const steps = cell("steps to share out", call("ROUND", over(number(100), step), number(0)));
    const guarded = (e: Expression): Expression =>
      missing.length === 0 ? e : call("IF", missing[0]!, text(""), e);
    const rows = Array.from({ length: column.length }, (_, i) => i);
    const raws = desk.working.block(
      desk.path,
      rows.map((i) => `steps of entry ${i + 1}`),
      rows.map((i) => guarded(call("ROUND", times(over(cellOf(column, i), total), steps), number(9)))),
    );
    const raw = (i: number): Expression => at(raws, i);
    const wholes = desk.working.block(
      desk.path,
      rows.map((i) => `whole steps of entry ${i + 1}`),
      rows.map((i) => guarded(call("INT", raw(i)))),
    );
    const rests = desk.working.block(
      desk.path,
      rows.map((i) => `what is left over of entry ${i + 1}`),
      rows.map((i) => guarded(call("ROUND", minus(raw(i), at(wholes, i)), number(9)))),
    );
    const left = cell("steps left over", minus(steps, call("SUM", wholes)));
    // The largest remainder comes first; of equal ones the larger entry, then the earlier.
    const entry = (i: number): Term => {
      const same = operation("=", rests, at(rests, i));
      const ahead = plus(
        call("SUMPRODUCT", ones(operation(">", rests, at(rests, i)))),
        call("SUMPRODUCT", times(same, operation(">", column.cells, cellOf(column, i)))),
      );
      const earlier =
        i === 0
          ? number(0)
          : call(
              "SUMPRODUCT",
              times(
                operation("=", upTo(rests, i), at(rests, i)),
                operation("=", upTo(column.cells, i), cellOf(column, i)),
              ),
            );
      const gets = call("IF", operation("<", plus(ahead, earlier), left), number(1), number(0));
      return quantityTerm(times(plus(at(wholes, i), gets), step), parseUnit("%"), missing, column.error);
    };
    return {
      type: "list",
      length: column.length,
      entry,
      gaps: column.gaps,
      ...(list.origin === undefined ? {} : { origin: list.origin }),
    };
  },
};

/** Truths as ones and noughts, so that they can be added up. */
const ones = (e: Expression): Expression => operation("*", e, number(1));
/** Quantiles and tails in office suites are good to about this, relative. */
const DISTRIBUTION = 1e-6;
/** So near a whole number counts as that number. */
const NEARLY = 1e-9;

export const valueFunctions: ReadonlyMap<string, ValueFunction> = new Map(
  Object.entries({ ...functions, ...dayFunctions }),
);

/** The entries of any list in helper cells. */
function entriesInCells(list: ListTerm, desk: Desk): Expression & { type: "range" } {
  const entries = Array.from({ length: list.length }, (_, i) => {
    const entry = list.entry(i);
    if (!("expression" in entry)) throw new NotLive("the entries to pick from are no single values");
    return unlessMissing(entry.missing, entry.expression);
  });
  return desk.working.block(
    desk.path,
    entries.map((_, i) => `to pick from: ${list.origin?.names[i] || i + 1}`),
    entries,
  );
}

function mapped(count: number, f: (terms: readonly Term[]) => Term): ValueFunction {
  return (args, _desk, each) =>
    each(
      args.slice(0, count).map((a) => a!),
      f,
    );
}
function rounding(term: Term, f: (e: Expression) => Expression): Term {
  const q = quantityIn(term);
  return { ...q, expression: f(q.expression) };
}
function ofPlain(term: Term, f: (e: Expression) => Expression): Term {
  const q = quantityIn(term);
  return quantityTerm(f(inSI(q)), plainUnit, q.missing, q.error);
}
function ending(list: ListTerm, f: (list: ListTerm) => Term): Term {
  if (list.chosen !== undefined) throw new NotLive("the first or last of chosen rows");
  return f(list);
}

const at = (block: Expression & { type: "range" }, i: number): Expression => ({
  type: "cell",
  at: { ...block.from, row: block.from.row + i },
});
const upTo = (block: Expression & { type: "range" }, count: number): Expression =>
  range(block.from, { ...block.from, row: block.from.row + count - 1 });

/** `sum(a * b)` over two columns of one table is a sum of products, without helper cells. */
function sumOfProducts(list: ListTerm): Term | undefined {
  if (list.chosen !== undefined || list.gaps || list.length < 2 || list.origin === undefined)
    return undefined;
  const factors = (
    i: number,
  ):
    | {
        a: Expression & { type: "cell" };
        b: Expression & { type: "cell" };
        rest: (e: Expression) => Expression;
        key: string;
        q: QuantityTerm;
      }
    | undefined => {
    const q = list.entry(i);
    if (q.type !== "quantity") return undefined;
    const e = q.expression;
    const scale =
      e.type === "operation" && e.operator === "/" && e.right.type === "number" ? e.right.value : 1;
    const product = scale === 1 ? e : (e as typeof e & { type: "operation" }).left;
    if (
      product.type !== "operation" ||
      product.operator !== "*" ||
      product.left.type !== "cell" ||
      product.right.type !== "cell"
    )
      return undefined;
    return {
      a: product.left,
      b: product.right,
      rest: (inner) => over(inner, number(scale)),
      key: `${scale} ${product.left.at.sheet} ${product.left.at.column} ${product.right.at.sheet} ${product.right.at.column}`,
      q,
    };
  };
  const all = Array.from({ length: list.length }, (_, i) => factors(i));
  const first = all[0];
  if (first === undefined) return undefined;
  for (let i = 0; i < all.length; i++) {
    const f = all[i];
    if (
      f === undefined ||
      f.key !== first.key ||
      f.a.at.row !== first.a.at.row + i ||
      f.b.at.row !== first.b.at.row + i
    )
      return undefined;
  }
  const block = (c: Expression & { type: "cell" }): Expression =>
    range(c.at, { ...c.at, row: c.at.row + list.length - 1 });
  return quantityTerm(
    first.rest(call("SUMPRODUCT", block(first.a), block(first.b))),
    first.q.unit,
    [],
    first.q.error,
  );
}
