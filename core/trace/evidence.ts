/** How far an answer can be trusted at each place: labels as they were seen, and the last visits, read in sets. */
import type { KindName, Row } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import { idsOf, type Known } from "./facts.ts";

type LabelState = "present" | "missing" | "illegible" | "wrong" | "due";

interface LabelRow {
  readonly what: "label";
  readonly subject_kind: KindName;
  readonly subject_id: number;
  readonly space_id: number | null;
  readonly state: Row<"label">["state"];
  readonly seen_on: string | null;
  readonly due_on: string | null;
}

interface VisitRow {
  readonly what: "visit";
  readonly id: number;
  readonly space_id: number | null;
  readonly cable_id: number | null;
  readonly made_on: string;
}

const visitsBy = (field: string): string => `
  union all select 'visit', null, null, space_id, null, null, null, id, cable_id, made_on from visit
  where ${field} in (select value from json_each(?))`;

/** Labels on things, given as lists of ids by kind; and visits to some spaces, along some cables, and some by id. */
const SEEN = `
  select 'label' as what, l.subject_kind, l.subject_id, l.space_id, l.state, l.seen_on, l.due_on, null as id,
    null as cable_id, null as made_on
  from json_each(?) k cross join json_each(k.value) e
    cross join label l on l.subject_kind = k.key and l.subject_id = e.value
  ${visitsBy("space_id")} ${visitsBy("cable_id")} ${visitsBy("id")}`;

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

  private constructor(labels: readonly LabelRow[], visits: readonly VisitRow[]) {
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
    const byKind: Partial<Record<KindName, number[]>> = {};
    for (const { kind, id } of subjects) {
      const ids = byKind[kind];
      if (ids) ids.push(id);
      else byKind[kind] = [id];
    }
    const ids = [idsOf(spaces), idsOf(cables), idsOf(visits)];
    const rows = await reader.rows<LabelRow | VisitRow>(SEEN, [JSON.stringify(byKind), ...ids]);
    return new Evidence(
      rows.filter((row) => row.what === "label"),
      rows.filter((row) => row.what === "visit"),
    );
  }

  /**
   * State of the labels on some things; of a thing that is at several places, of those at these spaces. Null where no
   * label is on record or nobody looked.
   */
  labelOf(
    subjects: readonly { kind: KindName; id: number | null }[],
    spaces: readonly (number | null)[],
  ): LabelState | null {
    let worst = WORST.length;
    for (const { kind, id } of subjects) {
      for (const label of (id !== null && this.#labels.get(`${kind} ${id}`)) || []) {
        if (label.space_id !== null && spaces.length > 0 && !spaces.includes(label.space_id)) continue;
        const state = stateOf(label);
        if (state !== null) worst = Math.min(worst, WORST.indexOf(state));
      }
    }
    return WORST[worst] ?? null;
  }

  /** The last day anybody looked: at a space, along a cable, or at the records themselves. */
  lastVisit(
    spaces: readonly (number | null)[],
    cables: readonly number[],
    records: readonly (Known | undefined)[],
  ): string | null {
    let last = "";
    const see = (day: string | undefined) => {
      if (day !== undefined && day > last) last = day;
    };
    for (const id of spaces) see(this.#spaces.get(id ?? 0));
    for (const id of cables) see(this.#cables.get(id));
    for (const record of records) if (record?.basis_visit_id) see(this.#visits.get(record.basis_visit_id));
    return last || null;
  }
}

/** How records are known, worst last: what is seen can be trusted more than what was told. */
const BASES = ["seen", "measured", "drawn", "told", "guessed"];
export const basesOf = (records: readonly (Known | undefined)[]): string[] =>
  BASES.filter((basis) => records.some((record) => record?.basis === basis));
