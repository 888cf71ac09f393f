/** Notes that are typed and not yet taken over; kept on this machine until they are. */
import { kept } from "../../client/kept.ts";
import type { Typed } from "./notes-box.tsx";

const EMPTY: Typed = { text: "", cable: "", at: "", meaning: "change" };

export const draft = {
  read: (): Typed => ({ ...EMPTY, ...kept.of("notes") }),
  write: (typed: Typed): void => kept.keep("notes", { ...typed }),
};
