/**
 * Items, rows and columns added, moved and taken away, headings of computed columns written, and many cells changed at once. The page opens a book without what
 * does it and fetches it behind (src/build/later.ts); until it comes such an edit is refused there.
 */
export { clearCells, fillDown } from "./cells";
export { headComputed } from "./computed-headings";
export { addColumn, addRow, moveColumn, moveRow, removeColumn, removeRows } from "./rows";
export { addItem, moveItem, removeItem } from "./structure";
