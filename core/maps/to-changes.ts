/** Features as changes of records: what each says and draws, held against what is on record. */
import { parseAddress } from "../model/address.ts";
import { checkNew, type ValueIssue } from "../model/check-values.ts";
import { Fault } from "../model/clean-text.ts";
import { type AnyValues, isKindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { type Problem, Refusal } from "../result.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Change } from "../store/plan.ts";
import { labelOf } from "../store/relations.ts";
import { say } from "../words/say.ts";
import { type FeatureFate, refusedFate } from "./fate.ts";
import { type OnRecord, pointsOf } from "./on-record.ts";
import { TAG } from "./said.ts";
import { MAPPED, type Mapped, properRing, sameDegrees, samePoints } from "./shape.ts";
import type { Taken } from "./take-up.ts";

export type NewIds = (kind: Mapped, count: number) => Promise<number>;

/** Turns features into changes, in order: what is new in the file can be referred to by what comes after it. */
export class ToChanges {
  readonly changes: Change[] = [];
  readonly #reader: Reader;
  readonly #record: OnRecord;
  readonly #newIds: NewIds;
  /** New in this file, by kind and address. */
  readonly #made = new Map<string, number>();
  readonly #resolved = new Map<string, { id: number; tag: string } | string>();

  constructor(reader: Reader, record: OnRecord, newIds: NewIds) {
    this.#reader = reader;
    this.#record = record;
    this.#newIds = newIds;
  }

  async fateOf(one: Taken): Promise<FeatureFate> {
    const { feature, kind, address, known, said, notices } = one;
    const problems: Omit<Problem, "row" | "record">[] = said.faults.map(({ label, reason }) => ({
      field: label,
      reason,
    }));
    const given: Record<string, Value> = { ...said.values, ...drawn(one) };
    const shown: Record<string, Value> = {};
    for (const { field, to, address: text } of said.references) {
      const found = await this.#find(to, text);
      if (typeof found === "string") problems.push({ field: labelOf(kind, field), reason: found });
      else {
        given[field] = found.id;
        shown[field] = found.tag;
      }
    }
    if (!known) problems.push(...(await this.#named(kind, address, given, shown)));
    if (problems.length === 0 && !known) {
      const issues: ValueIssue[] = [];
      checkNew(kind, given, issues);
      problems.push(...issues.map(({ label, reason }) => ({ field: label, reason })));
    }
    if (problems.length > 0) return refusedFate(feature, address, kind, problems, notices);
    const changed: Record<string, Value> = {};
    for (const [field, value] of Object.entries(given))
      if (!known || !same(field, known.row[field] ?? null, value)) changed[field] = value;
    const fields = Object.entries(changed).map(([field, after]) => ({
      field,
      label: labelOf(kind, field),
      before: known ? this.#told(kind, field, known.row[field] ?? null) : null,
      after: shown[field] ?? told(kind, field, after),
    }));
    const fate = !known ? "new" : fields.length > 0 ? "changed" : "same";
    const id = known?.row.id ?? null;
    if (fate !== "same") await this.#write(one, changed);
    return { ...{ feature: feature.number, record: address, kind, id, fate, problems: [], notices }, fields };
  }

  async #write({ kind, address, known, feature }: Taken, values: AnyValues): Promise<void> {
    if (known) {
      this.changes.push({ op: "update", kind, id: known.row.id, rev: known.row.rev, values, row: feature.number });
      return;
    }
    const id = await this.#newIds(kind, 1);
    this.#made.set(`${kind} ${address}`, id);
    this.changes.push({ op: "insert", kind, id, values, row: feature.number });
  }

  /** The name of a new record, and the parent that its address names. */
  async #named(kind: Mapped, address: string, given: Record<string, Value>, shown: Record<string, Value>) {
    const segments = parseAddress(address);
    if (segments instanceof Fault) return [{ field: TAG, reason: segments.reason }];
    const last = segments.at(-1)?.name ?? address;
    if (kind !== "space" || segments.length === 1) {
      given.tag = segments.length === 1 ? last : address;
      return [];
    }
    const above = address.slice(0, address.lastIndexOf("/"));
    const found = await this.#find("building", above);
    if (typeof found === "string") return [{ field: labelOf("space", "building_id"), reason: found }];
    if (typeof given.building_id === "number" && given.building_id !== found.id)
      return [{ field: labelOf("space", "building_id"), reason: say`is another than ${above}, which its tag names` }];
    given.building_id = found.id;
    shown.building_id = found.tag;
    given.tag = last;
    return [];
  }

  async #find(kind: string, text: string): Promise<{ id: number; tag: string } | string> {
    const made = this.#made.get(`${kind} ${text}`);
    if (made !== undefined) return { id: made, tag: text };
    const key = `${kind} ${text}`;
    let found = this.#resolved.get(key);
    if (found === undefined) {
      found = await this.#resolve(kind, text);
      this.#resolved.set(key, found);
    }
    return found;
  }

  async #resolve(kind: string, text: string): Promise<{ id: number; tag: string } | string> {
    if (!isKindName(kind)) throw new Error(`no kind is named ${kind}`);
    const mapped = MAPPED.find((one) => one === kind);
    const known = mapped ? this.#record.exact(mapped, text) : null;
    if (known) return { id: known.row.id, tag: known.address };
    try {
      const { id, tag } = await resolveOne(this.#reader, text, { kinds: [kind] });
      return { id, tag };
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      const [first] = error.failure.problems;
      return say`is ${text}, which ${first?.reason ?? error.failure.message}`;
    }
  }

  #told(kind: Mapped, field: string, value: Value): Value {
    const declared = kindOf(kind).fields[field] as Field | undefined;
    if (declared?.type !== "reference" || typeof value !== "number") return told(kind, field, value);
    return isKindName(declared.to) ? (this.#record.addressOf(declared.to, value) ?? value) : value;
  }
}

/** What the geometry says, by field, as it is stored. */
function drawn({ kind, shape }: Taken): Record<string, Value> {
  const { spot, outline, line } = shape;
  return {
    ...(spot ? { longitude: spot[0], latitude: spot[1] } : {}),
    ...(outline && kind === "building" ? { outline: JSON.stringify(outline) } : {}),
    ...(line && kind === "pathway" ? { geometry: JSON.stringify(line) } : {}),
  };
}

function same(field: string, before: Value, after: Value): boolean {
  if (before === after) return true;
  if (before === null || after === null) return false;
  if (field === "longitude" || field === "latitude") return sameDegrees(Number(before), Number(after));
  if (field === "geometry") return samePoints(pointsOf(before), pointsOf(after));
  if (field === "outline") return samePoints(properRing(pointsOf(before)), properRing(pointsOf(after)));
  return false;
}

/** A line or outline in a few words; everything else as it is. */
function told(kind: Mapped, field: string, value: Value): Value {
  const declared = kindOf(kind).fields[field];
  return declared?.type === "shape" && value !== null ? say`${pointsOf(value).length} positions` : value;
}
