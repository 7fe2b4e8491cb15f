/**
 * Why something cannot be read. The page opens a book without this and fetches it behind (src/build/later.ts); until it
 * comes a fault has its place and no reason there, and code of the page that waits for reasons imports ./explaining-here.
 */
export { explain } from "./explanations";
