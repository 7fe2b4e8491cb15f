import { createContext, useContext } from "react";
import type { Action, Notebook } from "../state/notebook";
import type { Store } from "../state/store";

const context = createContext<Store<Notebook, Action> | undefined>(undefined);

/** Gives the open notebook to every part of the page. */
export const NotebookProvider = context.Provider;

/** The open notebook. */
export function useNotebook(): Store<Notebook, Action> {
  const store = useContext(context);
  if (store === undefined) throw new Error("A part of the page stands outside the notebook.");
  return store;
}
