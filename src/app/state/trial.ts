import type { TrialRange } from "../../engine";

type Range = Pick<Extract<TrialRange, { type: "range" }>, "from" | "to" | "step">;

/** The step of a slider: the writer's own, else a round one that cuts the range into about a hundred. */
export function detent(range: Range): number {
  if (range.step !== undefined) return Math.abs(range.step);
  const width = Math.abs(range.to - range.from);
  if (width === 0) return 1;
  const rough = width / 200;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].find((m) => m * power >= rough * 0.999)! * power;
  return Number(step.toPrecision(3));
}

const decimalsOf = (x: number): number => {
  const text = x.toString();
  if (text.includes("e-")) return Number(text.slice(text.indexOf("e-") + 2));
  return text.includes(".") ? text.length - text.indexOf(".") - 1 : 0;
};

/** The literal of a plain quantity with another number; its unit and its ± stay as they were written. */
export function literalWith(literal: string, value: number, step: number): string {
  const decimals = Math.min(12, decimalsOf(step));
  const number = Number(value.toFixed(decimals))
    .toFixed(decimals)
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");
  return literal.replace(/^\s*[-+−]?\s*\d[\d.]*/u, number === "-0" ? "0" : number);
}
