/** The only door: looks an operation up, decodes its input, runs it, and answers a value, never a thrown error. */
import { z } from "zod";
import type { PlantGlass } from "../glass/plant-glass.ts";
import { KIND_NAMES } from "../model/dictionary.ts";
import type { Clock, FilePort, FolderPort, Lettering, Pause } from "../ports.ts";
import { type Failure, Refusal, refuse } from "../result.ts";
import { Cache } from "../store/cache.ts";
import { Gateway } from "../store/gateway.ts";
import type { OtherPlants, Reader, Store } from "../store/handle.ts";
import type { Occasion } from "../store/plan.ts";
import type { Changed, Written } from "../store/written.ts";
import { say } from "../words/say.ts";
import type { Context, LongOperation, Progress, ReadOperation, WriteOperation } from "./define.ts";
import { day } from "./inputs.ts";
import { reasons, reasonsOf } from "./reasons.ts";

export type { Changed } from "../store/written.ts";

/** An operation whose input and answer types are not known here; `decode` makes the input true before it is used. */
export type AnyOperation =
  | ReadOperation<string, z.ZodType, unknown>
  | WriteOperation<string, z.ZodType, unknown>
  | LongOperation<string, z.ZodType, unknown>;

export interface Request {
  readonly name: string;
  readonly input?: unknown;
  /** Who asks; needed for writes. */
  readonly occasion?: Occasion;
  /** Plans a write and shows it without carrying it out. */
  readonly rehearse?: boolean;
}

export type Reply<O = unknown> =
  | { readonly ok: true; readonly value: O; readonly revision: number }
  | { readonly ok: false; readonly error: Failure; readonly revision: number };

/** What goes along with one call but isn't data. */
export interface Call {
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
}

/** Stop signal and clock types that core may use without a browser or Node. */
interface AbortSignal {
  readonly aborted: boolean;
}

export interface SessionParts {
  readonly store: Store;
  readonly folders: FolderPort;
  readonly file: FilePort;
  readonly others: OtherPlants;
  readonly lettering: () => Promise<Lettering>;
  readonly clock: Clock;
  readonly pause: Pause;
  /** Loads the plant's glass; `held` is what was loaded before, to be brought to what is on record now. */
  readonly loadGlass: (reader: Reader, pause: Pause, held: PlantGlass | null) => Promise<PlantGlass>;
  readonly operations: readonly AnyOperation[];
  /** Told of each defect, with the operation's name. */
  readonly onDefect?: (name: string, error: unknown) => void;
}

export interface Session {
  dispatch(request: unknown, call?: Call): Promise<Reply>;
  subscribe(listener: (changed: Changed) => void): () => void;
  /** The last change set on record; 0 before the first. */
  revision(): Promise<number>;
  /** To be called when another program has written the file: the revision is read anew and every window told. */
  writtenOutside(): Promise<void>;
  readonly operations: readonly AnyOperation[];
}

const requestShape = z.strictObject({
  name: z.string().max(80),
  input: z.unknown().optional(),
  occasion: z
    .strictObject({
      author: z.string().trim().min(1, say`a name is needed`).max(80),
      reason: z.string().max(1000).nullable().optional(),
      meaning: z.enum(["change", "correction"]).optional(),
      day: day.nullable().optional(),
    })
    .optional(),
  rehearse: z.boolean().optional(),
});

export function createSession(parts: SessionParts): Session {
  const byName = new Map(parts.operations.map((operation) => [operation.name, operation]));
  const gateway = new Gateway(parts.store, parts.clock);
  const cache = new Cache();
  const listeners = new Set<(changed: Changed) => void>();
  let held: PlantGlass | null = null;
  let loading: Promise<PlantGlass> | null = null;
  let revision: number | null = null;

  gateway.onWritten = (changed) => {
    revision = changed.revision;
    for (const listener of listeners) listener(changed);
  };

  const currentRevision = async (): Promise<number> => {
    revision ??= await parts.store.read((reader) => gateway.revision(reader));
    return revision;
  };

  const loadGlass = (reader: Reader, call: Call): Promise<PlantGlass> => {
    // Told page by page to whoever asked first. It isn't stopped: others may wait for the same, and it is kept.
    let pages = 0;
    const breathe: Pause = () => {
      pages += 1;
      call.onProgress?.({ what: say`Reading the plant's glass`, done: pages, total: null });
      return parts.pause();
    };
    // Brought to what is on record at each asking; calls at the same time share one moment, and one loading.
    loading ??= parts
      .loadGlass(reader, breathe, held)
      .then(
        (loaded) => {
          held = loaded;
          return loaded;
        },
        (error) => {
          held = null;
          throw error;
        },
      )
      .finally(() => {
        loading = null;
      });
    return loading;
  };

  const contextFor = (reader: Reader, call: Call): Context => ({
    reader,
    today: parts.clock.today(),
    folders: parts.folders,
    file: parts.file,
    others: parts.others,
    lettering: parts.lettering,
    cache,
    glass: () => loadGlass(reader, call),
    heldGlass: async () => (held || loading ? loadGlass(reader, call) : null),
    progress: async (what, done, total) => {
      call.onProgress?.({ what, done, total });
      await parts.pause();
      if (call.signal?.aborted) refuse("stopped", say`Stopped. Nothing was changed.`);
    },
  });

  const answer = async (raw: unknown, call: Call): Promise<unknown> => {
    const request = decode(requestShape, raw, "request");
    const operation = byName.get(request.name);
    if (!operation) return refuse("unknown_operation", say`There is no operation named ${request.name}.`);
    const input = decode(operation.input, request.input ?? {}, operation.name);
    const occasion = request.occasion;
    const author = (): Occasion => {
      if (!occasion)
        return refuse("bad_input", say`A change needs the name of who makes it.`, [
          { field: "author", reason: say`is missing` },
        ]);
      if (parts.store.readOnly) refuse("read_only", parts.store.readOnly);
      return occasion as Occasion;
    };
    switch (operation.effect) {
      case "read":
        return parts.store.read(async (reader) => {
          const value = await operation.run(contextFor(reader, call), input);
          // While the moment is open anyway.
          revision ??= await gateway.revision(reader);
          return value;
        });
      case "write": {
        const who = request.rehearse ? ((occasion ?? { author: "rehearsal" }) as Occasion) : author();
        if (request.rehearse) {
          return parts.store.read(async (reader): Promise<Written<unknown>> => {
            const plan = await operation.plan(
              {
                ...contextFor(reader, call),
                occasion: who,
                newIds: (kind, count) => gateway.newIds(reader, kind, count),
              },
              input,
            );
            return gateway.rehearse(reader, plan);
          });
        }
        return gateway.carryOut(operation.name, who, (reader) =>
          operation.plan(
            {
              ...contextFor(reader, call),
              occasion: who,
              newIds: (kind, count) => gateway.newIds(reader, kind, count),
            },
            input,
          ),
        );
      }
      case "long": {
        const who = operation.writes ? author() : ((occasion ?? { author: "reader" }) as Occasion);
        // A long write opens its own transactions through the gateway.
        if (operation.writes) {
          return operation.run({ ...contextFor(gateway.outsideReader(), call), occasion: who, gateway }, input);
        }
        return parts.store.read((reader) =>
          operation.run({ ...contextFor(reader, call), occasion: who, gateway }, input),
        );
      }
    }
  };

  return {
    operations: parts.operations,
    revision: currentRevision,
    async writtenOutside() {
      revision = null;
      const changed = {
        revision: await currentRevision(),
        summary: say`Written by another program`,
        verb: null,
        kinds: KIND_NAMES,
      };
      for (const listener of listeners) listener(changed);
    },
    async dispatch(raw, call = {}) {
      try {
        const value = await answer(raw, call);
        return { ok: true, value: value ?? null, revision: await currentRevision() };
      } catch (error) {
        if (error instanceof Refusal) return { ok: false, error: error.failure, revision: revision ?? 0 };
        const name = typeof raw === "object" && raw !== null && "name" in raw ? String(raw.name) : "request";
        parts.onDefect?.(name, error);
        return {
          ok: false,
          error: {
            code: "internal",
            message: say`A defect of the program stopped ${name}. Nothing was changed.`,
            problems: [],
          },
          revision: revision ?? 0,
        };
      }
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}

/** Decodes what came from outside; every problem names the field. */
export function decode<S extends z.ZodType>(schema: S, raw: unknown, what: string): z.output<S> {
  const result = schema.safeParse(raw, { error: reasons });
  if (result.success) return result.data;
  const problems = reasonsOf(result.error.issues).map(({ path, reason }) => {
    // Of a list it is told which one, counted as people count.
    const row = path.find((part) => typeof part === "number");
    return {
      ...(row === undefined ? {} : { row: Number(row) + 1 }),
      ...(path.length > 0 ? { field: path.join(".") } : {}),
      reason,
    };
  });
  return refuse("bad_input", say`The input of ${what} can't be read.`, problems);
}
