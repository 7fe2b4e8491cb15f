/** Imported by whoever needs every function: behind this import none is on its way. */
import "./vocabulary";
