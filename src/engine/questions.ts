/**
 * What a book is asked once it is open: how a value came about, and what it comes to over ranges of others. The page
 * opens a book without this and fetches it behind (src/build/later.ts); whoever asks there imports ./questions-here.
 */
export { explain } from "./explanation";
export { monteCarlo } from "./montecarlo";
export { sweepOf } from "./sweep";
