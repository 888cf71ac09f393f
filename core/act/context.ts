/** What an act gets: a handle to read, ids for what it adds, and the occasion that says who writes and what it means. */
import type { AnyValues, KindName, Value, Values } from "../model/dictionary.ts";
import type { Reader } from "../store/handle.ts";
import type { Change, Occasion, Plan } from "../store/plan.ts";

export interface ActContext {
  readonly reader: Reader;
  readonly occasion: Occasion;
  /** Today in the plant, `YYYY-MM-DD`. */
  readonly today: string;
  newIds(kind: KindName, count: number): Promise<number>;
}

/** The day from which the act holds in the plant. */
export const dayOf = (context: ActContext): string => context.occasion.day ?? context.today;

/** Whether the record had been wrong: then what never was is deleted instead of ended. */
export const isCorrection = (context: ActContext): boolean => context.occasion.meaning === "correction";

/** Values of a record to be; a field that isn't given keeps its initial value. */
export type Given<K extends KindName> = { readonly [F in keyof Values<K>]?: Values<K>[F] | null | undefined };

const stripped = (values: Readonly<Record<string, Value | undefined>>): AnyValues =>
  Object.fromEntries(Object.entries(values).filter((entry): entry is [string, Value] => entry[1] !== undefined));

/** Collects what an act will write, and the doubts the user should see. */
export class PlanDraft {
  readonly changes: Change[] = [];
  readonly notices: string[] = [];
  readonly context: ActContext;

  constructor(context: ActContext) {
    this.context = context;
  }

  /** Adds records of one kind; answers their ids in order. */
  async insert<K extends KindName>(kind: K, rows: readonly Given<K>[]): Promise<number[]> {
    if (rows.length === 0) return [];
    const first = await this.context.newIds(kind, rows.length);
    return rows.map((values, i) => {
      this.changes.push({ op: "insert", kind, id: first + i, values: stripped(values) });
      return first + i;
    });
  }

  async insertOne<K extends KindName>(kind: K, values: Given<K>): Promise<number> {
    const [id] = await this.insert(kind, [values]);
    return id as number;
  }

  update<K extends KindName>(kind: K, id: number, values: Given<K>): void {
    const changed = stripped(values);
    if (Object.keys(changed).length > 0) this.changes.push({ op: "update", kind, id, values: changed });
  }

  delete(kind: KindName, id: number): void {
    this.changes.push({ op: "delete", kind, id });
  }

  notice(sentence: string): void {
    if (!this.notices.includes(sentence)) this.notices.push(sentence);
  }

  plan<A>(summary: string, answer: A): Plan<A> {
    return { summary, changes: this.changes, answer, notices: this.notices };
  }
}
