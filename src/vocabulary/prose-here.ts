import { putBack } from "./prose";
import { apart } from "./prose-apart";
import { vocabulary } from "./vocabulary";
import "./whole";

/** Imported by whoever shows what declarations say in words: behind this import they all have their prose. */
if (apart !== undefined) putBack(vocabulary, apart);
