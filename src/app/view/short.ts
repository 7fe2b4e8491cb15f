/** Five digits, as the language prints what is approximate; whole parts are never shortened. */
export const short = (x: number, digits = 5): string => {
  if (!Number.isFinite(x)) return "";
  const whole =
    Math.abs(x) >= 10 ** digits ? Math.round(x).toString() : Number(x.toPrecision(digits)).toString();
  return withMinus(whole);
};

const withMinus = (written: string): string => written.replace("-", "−");

/** Decimals that numbers beside each other are shown with: as many as the one that needs most. */
export const decimalsOf = (numbers: readonly number[], digits = 5): number =>
  numbers.reduce((most, x) => Math.max(most, short(x, digits).split(".")[1]?.length ?? 0), 0);

/** How numbers beside each other are written: with the same decimals, unless one is so small that it has a power of ten. */
export function alike(numbers: readonly number[]): (x: number) => string {
  if (numbers.some((x) => short(x).includes("e"))) return (x) => short(x);
  const decimals = decimalsOf(numbers);
  return (x) => (Number.isFinite(x) ? withMinus(x.toFixed(decimals)) : "");
}

/** A number with its standard uncertainty: two digits of that, and the number as far as they reach (`464.0 ± 2.4`). */
export function measured(x: number, spread: number): { readonly number: string; readonly spread: string } {
  const places = Math.max(0, 1 - Math.floor(Math.log10(Number(spread.toPrecision(2)))));
  return {
    number: withMinus(x.toFixed(places)),
    spread: Number(spread.toPrecision(2)).toFixed(places),
  };
}
