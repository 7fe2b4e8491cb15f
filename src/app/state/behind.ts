/** What an open book is written in and explained with beyond its cells and formulas; fetched behind it. */
import "../../../grammar/alterations-here";
import "../../../grammar/explaining-here";
import "./item-edits-here";
import "../view/clipping-here";
