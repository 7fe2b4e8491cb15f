/** Imported by what comes behind an open book: after it, items, rows, columns and blocks of cells can be changed. */
import "./item-edits";
