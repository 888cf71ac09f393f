/** What a browser window can do besides operations. A browser can't name files of this machine: a path is typed instead. */
import type { Capabilities } from "../../core/operations/wire.ts";

export const browserCapabilities: Capabilities = {
  chooseFile: async () => null,
  chooseFolder: async () => null,
  reveal: async () => undefined,
  print: async () => window.print(),
  theme: async () => undefined,
  openPlant: async () => undefined,
  openDropped: async () => undefined,
  pathOf: () => null,
};

/** Whether dialogs of the desktop shell are there; where they aren't, screens offer a field for the path. */
export const onDesktop = (): boolean => window.strandbook !== undefined;
