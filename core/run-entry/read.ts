/**
 * What was typed as the input of the act that enters a cable. What can't be read yet is a problem at its field and left
 * out, so that the line goes on growing while a name is half typed.
 */
import { countsOfType } from "../act/cable-design.ts";
import { refused } from "../as-built/carry.ts";
import type { Act } from "../as-built/shape.ts";
import { Fault } from "../model/clean-text.ts";
import type { KindName } from "../model/dictionary.ts";
import { readDay } from "../model/read-day.ts";
import { type LengthUnit, parseLength, parseMark, parseNumber, parseQuantity } from "../model/units.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { type FieldProblem, NAMELESS, type ToMake, type TypedRun, type TypedStop } from "./typed.ts";

export const MARK_FIELDS = ["mark_in", "mark_open_from", "mark_open_to", "mark_out"] as const;

/** A panel or case that is named and not on record. */
export interface MissingThing {
  readonly kind: ToMake["kind"];
  readonly address: string;
  /** Fields that name it. */
  readonly at: readonly string[];
}

export interface ReadStop {
  /** Place in the typed list. */
  readonly index: number;
  readonly typed: TypedStop;
  /** Address of its space as it is on record; null where it isn't known. */
  readonly space: string | null;
  readonly marks: readonly (number | null)[];
  readonly closure: string | null;
}

export class RunReading {
  readonly problems: FieldProblem[] = [];
  readonly missing = new Map<string, MissingThing>();
  readonly reader: Reader;
  readonly run: TypedRun;
  tag: string;
  readonly today: string;
  stops: readonly ReadStop[] = [];

  constructor(reader: Reader, run: TypedRun, today: string) {
    this.reader = reader;
    this.today = today;
    this.run = run;
    this.tag = run.tag.trim() || NAMELESS;
  }

  problem(at: string, reason: string, record: string | null = null): void {
    this.problems.push({ at, record, reason });
  }

  /** The address of the one record that a field names; null where it is empty or can't be read. */
  async named(text: string, kinds: readonly KindName[], at: string): Promise<{ kind: KindName; tag: string } | null> {
    if (text.trim() === "") return null;
    try {
      return await resolveOne(this.reader, text.trim(), { kinds });
    } catch (error) {
      for (const { reason, record } of refused(error).problems) this.problem(at, reason, record ?? null);
      return null;
    }
  }

  /** The address of a panel or case: as typed, else in the place; one that isn't there yet may be made. */
  async thing(kind: ToMake["kind"], text: string, space: string | null, at: string): Promise<string | null> {
    const typed = text.trim();
    if (typed === "") return null;
    const inside = space === null || typed.startsWith(`${space}/`) ? typed : `${space}/${typed}`;
    for (const address of new Set([inside, typed])) {
      try {
        return (await resolveOne(this.reader, address, { kinds: [kind] })).tag;
      } catch (error) {
        refused(error);
      }
    }
    if (this.run.make.some((one) => one.kind === kind && one.address === inside)) return inside;
    const before = this.missing.get(`${kind} ${inside}`);
    this.missing.set(`${kind} ${inside}`, { kind, address: inside, at: [...(before?.at ?? []), at] });
    this.problem(at, say`is not on record; say below that it is made, or mend the number`, inside);
    return null;
  }

  /** The act that enters the cable, with the rows that could be read; null before its first place is named. */
  async cable(): Promise<Act | null> {
    const { run } = this;
    if (run.tag.trim() === "") this.problem("tag", say`has no number yet`);
    await this.#freeNumber();
    const type = await this.named(run.type, ["cable_type"], "type");
    const units = await this.#units(type?.tag ?? null);
    const unit = this.#unit();
    const stops: Record<string, unknown>[] = [];
    const read: ReadStop[] = [];
    for (const [index, typed] of run.stops.entries()) {
      const { input, stop } = await this.#stop(typed, index, unit);
      stops.push(input);
      read.push(stop);
    }
    this.stops = read;
    if (stops.length === 0) return null;
    if (stops.length === 1) {
      this.problem("stops-whole", say`needs both ends: add where it goes on to`);
      stops.push({});
    }
    return {
      name: "cable.enter",
      input: {
        tag: this.tag,
        ...given({ name: run.name, run: run.run, reel: run.reel, notes: run.notes }),
        ...(type ? { type: type.tag } : {}),
        ...(units ? { units } : {}),
        ...(unit ? { mark_unit: unit } : {}),
        ...given({ installed_on: this.day(run.installed_on, "installed_on") }),
        stops,
        // Told beside the field as a doubt; what was read is read.
        even_if_marks_disagree: true,
      },
    };
  }

  /** A number that is another cable's is told, and the line drawn without it: what is typed is not about that cable. */
  async #freeNumber(): Promise<void> {
    const taken = await this.reader.rows("select id from cable where tag = ?", [this.tag]);
    if (taken.length === 0) return;
    this.problem("tag", say`is taken by a cable on record`, this.tag);
    this.tag = NAMELESS;
  }

  day(text: string, at: string): string {
    if (text.trim() === "") return "";
    const day = readDay(text.trim(), this.today);
    if (typeof day === "string") return day;
    this.problem(at, day.reason);
    return "";
  }

  async #stop(typed: TypedStop, index: number, unit: LengthUnit | null) {
    const at = (field: keyof TypedStop) => `stops.${index}.${field}`;
    const space = await this.named(typed.space, ["space"], at("space"));
    const way = await this.named(typed.way, ["conduit", "pathway"], at("way"));
    const last = index === this.run.stops.length - 1;
    if (last && typed.way.trim() !== "" && index > 0)
      this.problem(at("way"), say`leads on from the last place; add where it goes`);
    const closure = await this.thing("closure", typed.closure, space?.tag ?? null, at("closure"));
    const input: Record<string, unknown> = given({ space: space?.tag ?? "", closure: closure ?? "" });
    const marks = MARK_FIELDS.map((field) => {
      const text = typed[field].trim();
      if (text === "") return null;
      const mark = parseMark(text, unit);
      if (mark instanceof Fault) {
        this.problem(at(field), mark.reason);
        return null;
      }
      input[field] = mark;
      return mark;
    });
    const slack = typed.slack.trim() === "" ? null : parseLength(typed.slack.trim());
    if (slack instanceof Fault) this.problem(at("slack"), slack.reason);
    else if (slack !== null) input.slack_m = slack;
    const diameter = this.#number(typed.coil_diameter, at("coil_diameter"));
    if (diameter !== null) input.coil_diameter_mm = diameter;
    if (way && !last) input.way = { [way.kind]: way.tag };
    const stop: ReadStop = { index, typed, space: space?.tag ?? null, marks, closure };
    return { input, stop };
  }

  #number(text: string, at: string): number | null {
    if (text.trim() === "") return null;
    const value = parseNumber(text.trim());
    if (!(value instanceof Fault)) return value;
    this.problem(at, value.reason);
    return null;
  }

  whole(text: string, at: string): number | null {
    const value = this.#number(text, at);
    if (value === null || Number.isInteger(value)) return value;
    this.problem(at, say`is ${text.trim()}: must be a whole number`);
    return null;
  }

  /** As chosen, else as the first mark with a unit says; marks in both are told where they stand. */
  #unit(): LengthUnit | null {
    const { mark_unit, stops } = this.run;
    if (mark_unit !== "") return mark_unit;
    for (const stop of stops)
      for (const field of MARK_FIELDS) {
        const quantity = parseQuantity(stop[field].trim());
        if (!(quantity instanceof Fault) && quantity.unit !== null) return quantity.unit.family;
      }
    return null;
  }

  /** The inside where no type lists it, or lists it otherwise. */
  async #units(type: string | null): Promise<unknown> {
    const listed = type === null ? null : await countsOfType(this.reader, type);
    const strands = this.#number(this.run.strands, "strands");
    const each = this.#number(this.run.per_tube, "per_tube");
    const asListed = listed?.strands === strands && (listed?.each === each || this.run.per_tube.trim() === "");
    if (listed && asListed) return null;
    if (strands === null) {
      if (listed === null && this.run.strands.trim() === "")
        this.problem(
          "strands",
          type === null ? say`is empty, and no type says it` : say`is empty; the type lists none`,
        );
      return null;
    }
    if (each === null) {
      if (this.run.per_tube.trim() === "") this.problem("per_tube", say`is empty; say how many lie in each tube`);
      return null;
    }
    if (!(Number.isInteger(each) && each > 0 && strands > 0 && Number.isInteger(strands / each))) {
      this.problem("per_tube", say`is ${each}; ${strands} strands can't be divided so`);
      return null;
    }
    return [{ kind: "tube", repeats: strands / each, strands: each }];
  }
}

/** Fields that aren't empty. */
export const given = (fields: Readonly<Record<string, string>>): Record<string, string> =>
  Object.fromEntries(
    Object.entries(fields).flatMap(([key, value]) => (value.trim() === "" ? [] : [[key, value.trim()]])),
  );
