/** How far an answer can be trusted at each place: labels as they were seen, and the last visits, read in sets. */
import type { KindName, Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { idsOf, type Known } from "./facts.ts";

type LabelState = "present" | "missing" | "illegible" | "wrong" | "due";

interface LabelRow {
  readonly subject_kind: KindName;
  readonly subject_id: number;
  readonly space_id: number | null;
  readonly state: Row<"label">["state"];
  readonly seen_on: string | null;
  readonly due_on: string | null;
}

export interface Subject {
  readonly kind: KindName;
  readonly id: number;
}

/** The state that matters most of several labels. */
const WORST: readonly LabelState[] = ["missing", "wrong", "illegible", "due", "present"];

const stateOf = ({ state, seen_on, due_on }: LabelRow): LabelState | null =>
  due_on !== null && (state !== "present" || seen_on === null || seen_on < due_on) && state !== "missing"
    ? "due"
    : state;

export class Evidence {
  readonly #labels: Map<string, LabelRow[]>;
  readonly #spaces: Map<number, string>;
  readonly #cables: Map<number, string>;
  readonly #visits: Map<number, string>;

  private constructor(
    labels: readonly LabelRow[],
    visits: readonly { id: number; made_on: string; space_id: number | null; cable_id: number | null }[],
  ) {
    this.#labels = Map.groupBy(labels, ({ subject_kind, subject_id }) => `${subject_kind} ${subject_id}`);
    const latest = (idOf: (row: (typeof visits)[number]) => number | null): Map<number, string> => {
      const days = new Map<number, string>();
      for (const row of visits) {
        const id = idOf(row);
        if (id !== null && row.made_on > (days.get(id) ?? "")) days.set(id, row.made_on);
      }
      return days;
    };
    this.#spaces = latest(({ space_id }) => space_id);
    this.#cables = latest(({ cable_id }) => cable_id);
    this.#visits = latest(({ id }) => id);
  }

  static async read(
    reader: Reader,
    subjects: readonly Subject[],
    spaces: Iterable<number>,
    cables: Iterable<number>,
    visits: Iterable<number>,
  ): Promise<Evidence> {
    const labels = await reader.rows<LabelRow>(
      `select l.subject_kind, l.subject_id, l.space_id, l.state, l.seen_on, l.due_on
       from json_each(?) e cross join label l on l.subject_kind = e.value ->> 'kind' and l.subject_id = e.value ->> 'id'`,
      [JSON.stringify(subjects.map(({ kind, id }) => ({ kind, id })))],
    );
    const rows = await reader.rows<{ id: number; made_on: string; space_id: number | null; cable_id: number | null }>(
      `select id, made_on, space_id, cable_id from visit where space_id in (select value from json_each(?))
       union select id, made_on, space_id, cable_id from visit where cable_id in (select value from json_each(?))
       union select id, made_on, space_id, cable_id from visit where id in (select value from json_each(?))`,
      [idsOf(spaces), idsOf(cables), idsOf(visits)],
    );
    return new Evidence(labels, rows);
  }

  /**
   * State of the labels on some things; of a thing that is at several places, of those at these spaces. Null where no
   * label is on record or nobody looked.
   */
  labelOf(subjects: readonly Subject[], spaces: readonly (number | null)[]): LabelState | null {
    const states = subjects.flatMap(({ kind, id }) =>
      (this.#labels.get(`${kind} ${id}`) ?? [])
        .filter(({ space_id }) => space_id === null || spaces.length === 0 || spaces.includes(space_id))
        .map(stateOf),
    );
    return WORST.find((state) => states.includes(state)) ?? null;
  }

  /** The last day anybody looked: at a space, along a cable, or at the records themselves. */
  lastVisit(spaces: readonly (number | null)[], cables: readonly number[], records: readonly Known[]): string | null {
    const days = [
      ...spaces.map((id) => this.#spaces.get(id ?? 0)),
      ...cables.map((id) => this.#cables.get(id)),
      ...records.map(({ basis_visit_id }) => this.#visits.get(basis_visit_id ?? 0)),
    ].filter((day) => day !== undefined);
    return days.sort().at(-1) ?? null;
  }
}

/** How records are known, worst last: what is seen can be trusted more than what was told. */
const BASES = ["seen", "measured", "drawn", "told", "guessed"];
export const basesOf = (records: readonly (Known | undefined)[]): string[] => {
  const bases = new Set(records.map((record) => record?.basis ?? null));
  return BASES.filter((basis) => bases.has(basis));
};
