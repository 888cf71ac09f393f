/**
 * What travels between a window and the program that holds the plant file. The loopback host, Electron's channel and the
 * window's client all use these shapes, so a call means the same whichever way it came.
 *
 * Loopback: `POST /call` with a `WireCall` answers a `Reply`; `POST /stop` with a `WireStop` answers `{stopped}`;
 * `POST /paper` with a `WirePaper` answers a PDF, or a refused `Reply`; `GET /kept` answers what this machine keeps for its
 * user, `POST /kept` with a `WireKeep` keeps a change of it; `GET /events` streams one `WireEvent` a line
 * (NDJSON) and begins with `hello`. Each carries `TOKEN_HEADER`, whose value the page finds in its address after
 * `#token=`. Electron: `window.strandbook`, a `Bridge`.
 */
import { z } from "zod";
import type { KindName } from "../model/dictionary.ts";
import { PAPER_SIZES } from "../paper/document.ts";
import type { Failure } from "../result.ts";
import type { Reply, Request } from "./dispatch.ts";

export const TOKEN_HEADER = "x-strandbook-token";
export const CALL_PATH = "/call";
export const STOP_PATH = "/stop";
export const PAPER_PATH = "/paper";
export const EVENTS_PATH = "/events";
export const KEPT_PATH = "/kept";

/** Greatest size of one call's body in bytes; a block pasted from a spreadsheet stays far below it. */
export const CALL_LIMIT = 32 * 1024 * 1024;

const callId = z.string().min(1).max(64);

/**
 * A request to `dispatch` with an id of the window's choosing, by which it can be stopped and its progress told apart.
 * `again`: the connection broke before the answer came. What reads is read anew; of what writes only the answer is handed
 * over, so that nothing is written twice.
 */
export const wireCall = z.looseObject({ id: callId, name: z.string().max(80), again: z.literal(true).optional() });
export type WireCall = Request & { readonly id: string; readonly again?: true };

export const wireStop = z.strictObject({ id: callId });
export type WireStop = z.output<typeof wireStop>;
/** `stopped` is false when no call of that id is running. */
export interface WireStopped {
  readonly stopped: boolean;
}

/** Asks for what an operation answers as a document, on paper. The program runs it; a page has no document to hand in. */
export const wirePaper = z.strictObject({
  id: callId,
  name: z.string().max(80),
  input: z.unknown().optional(),
  size: z.enum(PAPER_SIZES),
});
export type WirePaper = z.output<typeof wirePaper>;

/** Of a PDF that came through loopback: how many pages it has, and which characters the fonts lack, percent-encoded. */
export const PAGES_HEADER = "x-strandbook-pages";
export const MISSING_HEADER = "x-strandbook-missing";

/** What was printed to a file. */
export interface PaperMade {
  readonly name: string;
  readonly pages: number;
  /** Characters that the fonts lack; each stands by its code on the paper. */
  readonly missing: readonly string[];
  /** Where it lies; null in a browser, which doesn't tell. */
  readonly path: string | null;
}
/** No value when the user thought better of it. */
export type PaperReply =
  | { readonly ok: true; readonly value: PaperMade | null }
  | { readonly ok: false; readonly error: Failure };

/**
 * What is kept for whoever uses this machine, beside every plant file: settings, how tables stand, named views of tables,
 * notes that are typed and not yet taken over, what was asked lately of each plant.
 */
export const KEPT_NAMES = ["settings", "tables", "views", "notes", "asked"] as const;
export type KeptName = (typeof KEPT_NAMES)[number];
/** A plant file opened on this machine; the program itself keeps these, by their paths, the last one last. */
export interface RecentPlant {
  readonly name: string;
  readonly at: string;
}
export type Kept = Readonly<Partial<Record<KeptName, Readonly<Record<string, unknown>>>>> & {
  readonly recent?: Readonly<Record<string, RecentPlant>>;
};

/** Entries after a change of them, those that changed last. */
export function changedEntries(
  entries: Readonly<Record<string, unknown>> | undefined,
  change: Readonly<Record<string, unknown>>,
): Record<string, unknown> {
  const others = Object.entries(entries ?? {}).filter(([key]) => !Object.hasOwn(change, key));
  return Object.fromEntries([...others, ...Object.entries(change).filter(([, value]) => value !== null)]);
}

/** Entries to put behind the others, in the place of those of the same key; null drops one. */
export const wireKeep = z.strictObject({
  name: z.enum(KEPT_NAMES),
  change: z.record(z.string().max(20_000), z.unknown()),
});
export type WireKeep = z.output<typeof wireKeep>;

/** What an application menu asks of the page. */
export const MENU_COMMANDS = [
  "undo",
  "redo",
  "find",
  "print",
  "backup",
  "import",
  "export",
  "history",
  "theme",
  "acts",
  "before",
  "after",
  "help",
  "keys",
] as const;
export type MenuCommand = (typeof MENU_COMMANDS)[number];

export const wireEvent = z.discriminatedUnion("type", [
  /** First of every loopback stream: the revision on record now, so that a window which was away knows what it missed. */
  z.object({ type: z.literal("hello"), revision: z.number().int() }),
  /** A change set was written, by whichever window. */
  z.object({
    type: z.literal("changed"),
    revision: z.number().int(),
    summary: z.string(),
    /** What it does to a change set before it; null where it is a change of its own. */
    verb: z.enum(["undo", "redo"]).nullable(),
    kinds: z.array(z.string().transform((kind) => kind as KindName)),
  }),
  z.object({
    type: z.literal("progress"),
    id: callId,
    what: z.string(),
    done: z.number(),
    total: z.number().nullable(),
  }),
  /** Another window kept something. */
  z.object({ type: z.literal("kept"), ...wireKeep.shape }),
  z.object({ type: z.literal("menu"), command: z.enum(MENU_COMMANDS) }),
  /** Nothing; keeps the stream from looking dead. */
  z.object({ type: z.literal("beat") }),
  /** The program is closing; no further call will be answered. */
  z.object({ type: z.literal("closing") }),
]);
export type WireEvent = z.output<typeof wireEvent>;

export type ThemeChoice = "system" | "light" | "dark";

/** What a window can do besides operations. Each answers null, or does nothing, when the user thinks better of it. */
export interface Capabilities {
  /** `what` names the file wanted, as the dialog's title. */
  chooseFile(what: string): Promise<string | null>;
  chooseFolder(what: string): Promise<string | null>;
  /** Shows a file or folder in the system's own file window. */
  reveal(path: string): Promise<void>;
  /** Prints the page as it stands. */
  print(): Promise<void>;
  theme(choice: ThemeChoice): Promise<void>;
  /** Closes this plant file and opens another in the same window; the page loads anew. Without a path the user chooses. */
  openPlant(path?: string): Promise<void>;
  /** The same with a file that was dropped on the window. */
  openDropped(file: File): Promise<void>;
  /** Where a dropped file or folder lies; null where that isn't told, as in a browser. */
  pathOf(file: File): string | null;
}

/** `window.strandbook`, there only in Electron. */
export interface Bridge {
  /** `leaving`: the page is being left, and the call is to arrive all the same. */
  call(call: WireCall, leaving?: boolean): Promise<Reply>;
  stop(id: string): Promise<WireStopped>;
  /** Prints to a PDF of the user's: a download, or a file chosen in the system's dialog. */
  paper(asked: WirePaper): Promise<PaperReply>;
  /** What this machine keeps for its user; empty where the program doesn't answer. */
  kept(): Promise<Kept>;
  /** Keeps a change; every window of this program is told. */
  keep(change: WireKeep): Promise<void>;
  /** Answers how to end the subscription. */
  subscribe(listener: (event: WireEvent) => void): () => void;
  readonly capabilities: Capabilities;
}
