/** Imported by whoever asks a book `why` or sweeps it: behind this import it can answer. */
import "./questions";
