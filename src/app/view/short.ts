/** Five digits, as the language prints what is approximate; whole parts are never shortened. */
export const short = (x: number, digits = 5): string => {
  if (!Number.isFinite(x)) return "";
  const whole =
    Math.abs(x) >= 10 ** digits ? Math.round(x).toString() : Number(x.toPrecision(digits)).toString();
  return whole.replace("-", "−");
};

/** Decimals that numbers beside each other are shown with: as many as the one that needs most. */
export const decimalsOf = (numbers: readonly number[], digits = 5): number =>
  Math.max(0, ...numbers.map((x) => short(x, digits).split(".")[1]?.length ?? 0));

/** A number with its standard uncertainty: two digits of that, and the number as far as they reach (`464.0 ± 2.4`). */
export function measured(x: number, spread: number): { readonly number: string; readonly spread: string } {
  const places = Math.max(0, 1 - Math.floor(Math.log10(Number(spread.toPrecision(2)))));
  return {
    number: x.toFixed(places).replace("-", "−"),
    spread: Number(spread.toPrecision(2)).toFixed(places),
  };
}
