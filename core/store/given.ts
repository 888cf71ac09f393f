/** Values as an operation is given them: references by id or by address, structured content as JSON. */
import { type AnyValues, isKindName, KINDS, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { type Problem, Refusal, type RefusalCode, refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { resolveOne } from "./addresses.ts";
import { sentenceOf } from "./draft.ts";
import type { Reader } from "./handle.ts";
import { labelOf } from "./relations.ts";
import { inRowOrder } from "./together.ts";

type Given = Readonly<Record<string, unknown>>;

/** Reads what was given, many records at a time; an address that comes again is looked up once. */
export class GivenValues {
  readonly #reader: Reader;
  readonly #known = new Map<string, number | Refusal>();
  readonly #problems: Problem[] = [];
  #code: RefusalCode | null = null;

  constructor(reader: Reader) {
    this.#reader = reader;
  }

  /** The values as a plan takes them. What can't be resolved is kept for `refuseProblems`. */
  async read(
    kind: KindName,
    given: Given,
    where: { readonly record: string; readonly row?: number | undefined; readonly subjectKind?: Value | undefined },
  ): Promise<AnyValues> {
    const fields: Readonly<Record<string, Field>> = KINDS[kind].fields;
    const values: Record<string, Value> = {};
    for (const name of Object.keys(given)) {
      const value = given[name];
      const field = fields[name];
      const text = typeof value === "string" && value.trim() !== "" ? value : null;
      if (text !== null && (field?.type === "reference" || field?.type === "subject")) {
        const to = field.type === "reference" ? field.to : (given[field.kindField] ?? where.subjectKind);
        const id = typeof to === "string" && isKindName(to) ? await this.#resolve(to, text, labelOf(kind, name)) : null;
        if (id instanceof Refusal) this.#add(id, labelOf(kind, name), where);
        else values[name] = id ?? text;
      } else values[name] = typeof value === "object" && value !== null ? JSON.stringify(value) : (value as Value);
    }
    return values;
  }

  /** The id of a record given by id or address; 0 when it can't be found, which is kept for `refuseProblems`. */
  async id(kind: KindName, given: number | string, row: number): Promise<number> {
    if (typeof given === "number") return given;
    const found = await this.#resolve(kind, given, kindOf(kind).one);
    if (!(found instanceof Refusal)) return found;
    this.#code ??= found.failure.code;
    this.#problems.push(...found.failure.problems.map((problem) => ({ ...problem, row })));
    return 0;
  }

  /** Ends the operation when anything could not be resolved, naming each row and field. */
  refuseProblems(): void {
    if (!this.#code) return;
    const all = inRowOrder(this.#problems);
    refuse(this.#code, sentenceOf(all), all);
  }

  async #resolve(kind: KindName, text: string, field: string): Promise<number | Refusal> {
    const key = `${kind} ${text}`;
    let found = this.#known.get(key);
    if (found === undefined) {
      try {
        found = (await resolveOne(this.#reader, text, { kinds: [kind], field })).id;
      } catch (error) {
        if (!(error instanceof Refusal)) throw error;
        found = error;
      }
      this.#known.set(key, found);
    }
    return found;
  }

  #add({ failure }: Refusal, field: string, { record, row }: { record: string; row?: number | undefined }): void {
    this.#code ??= failure.code;
    const reasons = failure.problems.map((problem) => problem.reason);
    const typed = failure.problems[0]?.record;
    this.#problems.push({
      ...(row === undefined ? {} : { row }),
      record,
      field,
      reason: `${typed === undefined ? "" : say`is ${typed}, which `}${reasons.join(say`, or `) || failure.message}`,
    });
  }
}

/** The id of a record given by id or address. */
export async function idOf(reader: Reader, kind: KindName, given: number | string): Promise<number> {
  return typeof given === "number"
    ? given
    : (await resolveOne(reader, given, { kinds: [kind], field: kindOf(kind).one })).id;
}
