import type { Book } from "../engine";
import type { Fate } from "./live";
import { workbookOf } from "./workbook";

/** How much of a book goes out live, and why the rest does not. */
export interface ExportReport {
  /** Computed values: parts of values, cells of computed columns, feet, checks. */
  readonly computed: number;
  readonly live: number;
  /** live / computed; 1 for a book that computes nothing. */
  readonly share: number;
  /** Values that go out without a formula, each with the reason. */
  readonly kept: readonly { readonly path: string; readonly formula: string; readonly reason: string }[];
  /** The same as text, a line each. */
  readonly text: string;
}

export function exportReport(book: Book): ExportReport {
  return reportOf(workbookOf(book).fates);
}

export function reportOf(fates: readonly Fate[]): ExportReport {
  const kept = fates
    .filter((f) => !f.live)
    .map(({ path, formula, reason }) => ({ path, formula, reason: reason ?? "no reason was given" }));
  const computed = fates.length;
  const live = computed - kept.length;
  const share = computed === 0 ? 1 : live / computed;
  const lines = [`${live} of ${computed} computed values go out live (${Math.round(share * 100)} %).`];
  for (const { path, formula, reason } of kept)
    lines.push(`${path} = ${formula}`, `  goes out as a value: ${reason}`);
  return { computed, live, share, kept, text: lines.join("\n") + "\n" };
}
