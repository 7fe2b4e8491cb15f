/** Imported by what comes behind an open book: after it, cells can be copied and pasted. */
import "./clipping";
