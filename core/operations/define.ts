/**
 * What an operation is. Each subject has a file in `subjects/` that defines its operations; `list.ts` lists them all.
 * Electron's channel, the loopback host and the command line call that list through `dispatch` and add nothing to it.
 */
import type { z } from "zod";
import type { PlantGlass } from "../glass/plant-glass.ts";
import type { KindName } from "../model/dictionary.ts";
import type { FilePort, FolderPort, Lettering } from "../ports.ts";
import type { Cache } from "../store/cache.ts";
import type { Gateway } from "../store/gateway.ts";
import type { OtherPlants, Reader } from "../store/handle.ts";
import type { Occasion, Plan } from "../store/plan.ts";

export type { ChangeView, Written } from "../store/written.ts";

export interface Progress {
  /** What is being done, as a few words. */
  readonly what: string;
  readonly done: number;
  readonly total: number | null;
}

export interface Context {
  readonly reader: Reader;
  /** Today in the plant, `YYYY-MM-DD`. */
  readonly today: string;
  /** The whole plant's glass in compact arrays, loaded once and kept current; for bulk questions. */
  glass(): Promise<PlantGlass>;
  /** The same where it has been loaded before; null where it hasn't: a question that needs little of it reads that. */
  heldGlass(): Promise<PlantGlass | null>;
  /**
   * Reports progress, lets other work breathe, and ends the operation (`stopped`) when the user asked for it.
   * Call it every few thousand rows.
   */
  progress(what: string, done: number, total: number | null): Promise<void>;
  readonly folders: FolderPort;
  readonly file: FilePort;
  readonly others: OtherPlants;
  /** Letters and codes of labels, loaded when they are first asked for. */
  lettering(): Promise<Lettering>;
  /** Kept from call to call for as long as the file is open. */
  readonly cache: Cache;
}

export interface WriteContext extends Context {
  readonly occasion: Occasion;
  /** Ids for `count` new records of a kind, as the first of a run; nothing is written by asking. */
  newIds(kind: KindName, count: number): Promise<number>;
}

/** For long operations that write: they stream through the gateway instead of answering a plan. */
export interface LongContext extends Context {
  readonly occasion: Occasion;
  readonly gateway: Gateway;
}

interface Described<N extends string> {
  /** `subject.verb`. */
  readonly name: N;
  /** One sentence for help pages. */
  readonly help: string;
}

export interface ReadOperation<N extends string, I extends z.ZodType, O> extends Described<N> {
  readonly effect: "read";
  readonly input: I;
  readonly run: (context: Context, input: z.output<I>) => Promise<O>;
}
export interface WriteOperation<N extends string, I extends z.ZodType, O> extends Described<N> {
  readonly effect: "write";
  readonly input: I;
  /** Reads, refuses or answers what would be written. Must not write. */
  readonly plan: (context: WriteContext, input: z.output<I>) => Promise<Plan<O>>;
}
export interface LongOperation<N extends string, I extends z.ZodType, O> extends Described<N> {
  readonly effect: "long";
  readonly writes: boolean;
  readonly input: I;
  readonly run: (context: LongContext, input: z.output<I>) => Promise<O>;
}

export const defineRead = <const N extends string, I extends z.ZodType, O>(
  o: Omit<ReadOperation<N, I, O>, "effect">,
): ReadOperation<N, I, O> => ({ effect: "read", ...o });
export const defineWrite = <const N extends string, I extends z.ZodType, O>(
  o: Omit<WriteOperation<N, I, O>, "effect">,
): WriteOperation<N, I, O> => ({ effect: "write", ...o });
export const defineLong = <const N extends string, I extends z.ZodType, O>(
  o: Omit<LongOperation<N, I, O>, "effect">,
): LongOperation<N, I, O> => ({ effect: "long", ...o });
