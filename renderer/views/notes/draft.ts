/** Notes that are typed and not yet taken over; kept by the browser until they are. */
import type { Typed } from "./notes-box.tsx";

const KEY = "strandbook.notes";
const EMPTY: Typed = { text: "", cable: "", at: "", meaning: "change" };

export const draft = {
  read(): Typed {
    try {
      return { ...EMPTY, ...JSON.parse(localStorage.getItem(KEY) ?? "{}") };
    } catch {
      return EMPTY;
    }
  },
  write(typed: Typed): void {
    localStorage.setItem(KEY, JSON.stringify(typed));
  },
};
