/** What is asked now, and everything that could be: given from above, so that views needn't know each other. */
import { createContext, useContext } from "react";
import type { View } from "../views/view.ts";

export interface Current {
  readonly view: View;
  readonly values: Readonly<Record<string, string>>;
  /** Every view, in the order of the list of questions. */
  readonly views: readonly View[];
}

const CurrentContext = createContext<Current | null>(null);
export const CurrentView = CurrentContext.Provider;

export function useCurrentView(): Current {
  const current = useContext(CurrentContext);
  if (!current) throw new Error("There is no view above this part of the window.");
  return current;
}
