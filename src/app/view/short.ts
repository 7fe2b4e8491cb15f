/** Five digits, as the language prints what is approximate; whole parts are never shortened. */
export const short = (x: number, digits = 5): string => {
  if (!Number.isFinite(x)) return "";
  const whole =
    Math.abs(x) >= 10 ** digits ? Math.round(x).toString() : Number(x.toPrecision(digits)).toString();
  return whole.replace("-", "−");
};
