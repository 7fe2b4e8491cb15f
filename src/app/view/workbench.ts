import type { Action, Notebook } from "../state/notebook";
import { storeContext } from "../state/store";

/** The open notebook, for every part of the page. */
export const [NotebookProvider, useNotebook] = storeContext<Notebook, Action>("The notebook");
