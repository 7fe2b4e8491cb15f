import type { Declaration } from "./declaration";
import { balances } from "./run-balance";
import { distilling } from "./run-distilling";
import { timing } from "./run-timing";

/** The run: what comes over, how long it takes, and where the rest went. */
export const declarations: readonly Declaration[] = [...distilling, ...timing, ...balances];
