import type { Declaration } from "./declaration";
import { measuring } from "./spirit-measuring";
import { mixing } from "./spirit-mixing";
import { scales } from "./spirit-scales";

/** Everything about clean spirit: its scales, finding its strength, and mixing it. */
export const declarations: readonly Declaration[] = [...scales, ...measuring, ...mixing];
