/**
 * Items added, moved and taken away. The page opens a book without what does it and fetches it behind
 * (src/build/later.ts); until it comes such an edit is refused there.
 */
export { addItem, moveItem, removeItem } from "./structure";
