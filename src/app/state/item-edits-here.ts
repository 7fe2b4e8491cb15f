/** Imported by what comes behind an open book: after it, items are added, moved and taken away. */
import "./item-edits";
