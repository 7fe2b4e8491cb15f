import type { CellRole } from "./sheet";

/**
 * How each kind of cell looks in a spreadsheet. As on the page, colour is never the only sign: what was
 * typed stands on a line, what does not recalculate is slanted, a fault is bold, a foot has a rule above it.
 */
export interface CellLook {
  readonly ink: string;
  readonly ground?: string;
  readonly bold?: boolean;
  readonly slanted?: boolean;
  readonly size?: number;
  readonly lineBelow?: string;
  readonly lineAbove?: string;
  readonly wrapped?: boolean;
  readonly fixedPitch?: boolean;
}

export const LOOKS: Readonly<Record<CellRole, CellLook>> = {
  plain: { ink: "1e2124" },
  title: { ink: "1e2124", bold: true, size: 14 },
  heading: { ink: "1e2124", bold: true, lineBelow: "858177", wrapped: true },
  typed: { ink: "223f86", lineBelow: "7080b0" },
  computed: { ink: "1e2124" },
  kept: { ink: "5a5b5c", slanted: true },
  gap: { ink: "735008", slanted: true },
  fault: { ink: "a01f2b", bold: true },
  foot: { ink: "1e2124", bold: true, lineAbove: "858177" },
  remark: { ink: "5a5b5c", wrapped: true },
  formula: { ink: "1a5c64", fixedPitch: true },
  caution: { ink: "1e2124", ground: "f1efea", bold: true, wrapped: true },
};
/** `foot` and the rest may also be kept: the slant is added to their own look. */
export const FACE = "DejaVu Sans";
export const FORMULA_FACE = "DejaVu Sans Mono";
export const SIZE = 10;
