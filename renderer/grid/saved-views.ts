/**
 * Ways to look at a kind's table that somebody gave a name: what is asked and how it stands. Kept on this machine
 * beside the looks, never in the plant file.
 */
import type { KindName } from "../../core/model/dictionary.ts";
import { kept } from "../client/kept.ts";
import { checkedLook, type TableLook } from "./remembered.ts";

export interface SavedView {
  readonly name: string;
  /** Where, by what filtered and how sorted, as the address says it. */
  readonly asks: Readonly<Record<string, string>>;
  readonly look: TableLook;
}

/** The parts of the address that are the question. */
export const ASKS = ["in", "where", "by"] as const;
const MOST_NAME = 60;

const isView = (one: unknown): one is SavedView =>
  typeof one === "object" &&
  one !== null &&
  typeof (one as SavedView).name === "string" &&
  (one as SavedView).name !== "";

export function savedViews(kind: KindName): readonly SavedView[] {
  const found = kept.of("views")[kind];
  if (!Array.isArray(found)) return [];
  return found.filter(isView).map(({ name, asks, look }) => ({
    name,
    asks: Object.fromEntries(ASKS.flatMap((ask) => (typeof asks?.[ask] === "string" ? [[ask, asks[ask]]] : []))),
    look: checkedLook(kind, look ?? {}),
  }));
}

function put(kind: KindName, views: readonly SavedView[]): void {
  kept.keep("views", { [kind]: views });
}

export const cleanName = (name: string): string => name.trim().replace(/\s+/g, " ").slice(0, MOST_NAME);

/** One of that name is replaced. */
export function saveView(kind: KindName, view: SavedView): void {
  const others = savedViews(kind).filter(({ name }) => name !== view.name);
  put(
    kind,
    [...others, view].toSorted((one, other) => one.name.localeCompare(other.name, "en", { numeric: true })),
  );
}

export const dropView = (kind: KindName, name: string): void =>
  put(
    kind,
    savedViews(kind).filter((view) => view.name !== name),
  );
