/**
 * What they say and isn't taken because of what is chosen, or open: a record whose parent is left out goes with it, another
 * comes without the mention. Nothing of it is dropped untold.
 */
import { KINDS, type KindName } from "../../model/dictionary.ts";
import { addressesOf } from "../../store/describe.ts";
import type { Reader } from "../../store/handle.ts";
import { labelOf } from "../../store/relations.ts";
import { few } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import type { Ids } from "./same-records.ts";

export interface Left {
  /** The conflict that brings it back when it is chosen otherwise; null where none does. */
  readonly key: string | null;
  readonly kind: KindName;
  /** Its id here, or the one it would have got. */
  readonly id: number;
  /** The field that isn't taken; null where the whole record is left out. */
  readonly field: string | null;
  /** Whether it is new here: it comes without the field, where an older one keeps what it says. */
  readonly isNew: boolean;
  /** What it refers to and what isn't there; null where another record has its key. */
  readonly target: { readonly kind: KindName; readonly id: number; readonly why: "deleted_here" | "left_out" } | null;
}

export class LeftOut {
  readonly #all = new Map<string, Left>();
  readonly #keys = new Map<string, string | null>();

  add(left: Left): void {
    const { kind, id, field } = left;
    this.#all.set(`${kind} ${id} ${field ?? ""}`, left);
    if (field === null) this.#keys.set(`${kind} ${id}`, left.key);
  }

  /** By which choice a record was left out. */
  keyOf = (kind: KindName, id: number): string | null => this.#keys.get(`${kind} ${id}`) ?? null;

  get all(): readonly Left[] {
    return [...this.#all.values()];
  }
}

/** Of one conflict those of a kind that are left out alike. */
export interface LeftOutView {
  readonly key: string | null;
  readonly kind: KindName;
  readonly field: string | null;
  readonly count: number;
  /** Some of them by name. */
  readonly named: readonly string[];
  /** What becomes of them, and why. */
  readonly words: string;
}

/** Records that are named of many. */
const NAMED = 12;

/** In words, of each conflict together. */
export async function leftOutViews(theirs: Reader, ids: Ids, all: readonly Left[]): Promise<LeftOutView[]> {
  const groups = Map.groupBy(all, ({ key, kind, field, isNew, target }) =>
    JSON.stringify([key, kind, field, isNew, target?.kind, target?.why]),
  );
  const inTheirs = new Map<KindName, ReadonlyMap<number, number>>();
  const theirId = (kind: KindName, id: number): number => {
    let own = inTheirs.get(kind);
    if (!own) {
      own = new Map([...(ids.pairs.get(kind) ?? [])].map(([their, our]) => [our, their]));
      inTheirs.set(kind, own);
    }
    return own.get(id) ?? id;
  };
  const names = async (kind: KindName, own: readonly number[]): Promise<string[]> => {
    const first = own.map((id) => theirId(kind, id));
    const found = await addressesOf(theirs, kind, first);
    return first.map((id) => found.get(id) ?? `${KINDS[kind].one} ${id}`);
  };
  const views: LeftOutView[] = [];
  for (const group of groups.values()) {
    const [{ key, kind, field, isNew, target }] = group as [Left, ...Left[]];
    const targets = group.flatMap((one) => one.target?.id ?? []);
    const of =
      target === null ? "" : `${KINDS[target.kind].one} ${few(await names(target.kind, [...new Set(targets)]), 3)}`;
    const label = field === null ? "" : labelOf(kind, field);
    const fate =
      field === null ? say`left out` : isNew ? say`taken without ${label}` : say`${label} stays as it is here`;
    const why =
      target === null
        ? say`another record has that tag`
        : target.why === "deleted_here"
          ? say`refers to what was deleted here: ${of}`
          : say`refers to what is left out: ${of}`;
    const own = group.map(({ id }) => id);
    const named = await names(kind, own.slice(0, NAMED));
    views.push({ key, kind, field, count: own.length, named, words: `${fate}; ${why}` });
  }
  return views;
}
