/** Cells copied and pasted; fetched behind an open book, which says so when it is asked sooner (src/build/later.ts). */
export { copied, pasted } from "./clipboard";
