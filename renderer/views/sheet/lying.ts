/**
 * The sheet that is being taken over, with how it is mapped and which rows are left out. It lies in this window's memory
 * as long as it stands, whatever page it shows, until it is taken over or another is chosen. What is said of it is kept as
 * what is typed into forms is, and the sheet itself on the desk of the plant file, so that both outlive the window.
 */
import { useEffect, useSyncExternalStore } from "react";
import { z } from "zod";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import type { Client } from "../../client/client.ts";
import { settings } from "../../client/settings.ts";
import { drop, formOf, onForms, put } from "../../forms/kept-form.ts";
import type { Made, Mapping, Reading, ReadSheet, Source } from "./mapping.ts";

export interface Open {
  readonly source: Source;
  readonly read: ReadSheet;
  readonly reading: Reading;
  readonly mapping: Mapping;
  /** The source it is read as; empty where that isn't known. */
  readonly by: string;
}

export interface Lying {
  readonly open: Open | null;
  /** Numbers of rows. */
  readonly leaveOut: readonly number[];
  readonly create: readonly Made[];
  /** All that was asked of it is on record: it goes with the page. */
  readonly written: boolean;
}

const NONE: Lying = { open: null, leaveOut: [], create: [], written: false };
const KEY = "sheet";

const texts = z.record(z.string(), z.string());
/** What a window before this one left of a sheet. */
const leftShape = z.object({
  name: z.string(),
  /** Its number on the desk; null where it was too big to be kept. */
  desk: z.int().nullable(),
  reading: z.object({ encoding: z.string(), delimiter: z.string(), heading_row: z.int().nullable() }),
  mapping: z.object({
    ...{ sheet: z.string(), shape: z.string(), columns: texts, fixed: texts },
    units: z.record(z.string(), z.enum(["m", "ft"])),
    days: z.enum(["", "day_first", "month_first"]),
    decimal: z.enum(["", "comma", "point"]),
  }),
  by: z.string(),
  leaveOut: z.array(z.int()),
  create: z.array(z.unknown()),
});

export interface Left extends Omit<z.output<typeof leftShape>, "reading" | "create"> {
  readonly reading: Reading;
  readonly create: readonly Made[];
}

let lying = NONE;
let desk: number | null = null;
let left: { readonly of: unknown; readonly is: Left | null } = { of: undefined, is: null };
const listeners = new Set<() => void>();

/** A sheet that is changed after it was written waits to be written again. */
export function lay(change: Partial<Lying>): void {
  lying = { ...lying, written: false, ...change };
  const { open, written, leaveOut, create } = lying;
  if (!open || written) drop(KEY);
  else {
    const { source, reading, mapping, by } = open;
    const name = source.name ?? "";
    put({ key: KEY, title: say`Sheet ${name}`, value: { name, desk, reading, mapping, by, leaveOut, create } });
  }
  for (const listener of listeners) listener();
}

const occasion = () => ({ author: settings.get().person || say`someone not named` });

function throwAway(client: Client): void {
  if (desk !== null) void client.call("desk.throw_away", { form: "source", id: desk }, { occasion: occasion() });
  desk = null;
}

/** Another sheet in its place: what was said of the rows before is of no use to it. */
export function layOpen(client: Client, open: Open): void {
  const same = lying.open?.source === open.source;
  if (!same) throwAway(client);
  lay({ ...NONE, open });
  if (!same) void keep(client, open.source);
}

async function keep(client: Client, source: Source): Promise<void> {
  const name = source.name ?? "";
  const reply = await client.call(
    "desk.keep",
    { form: "source", name: name.slice(0, 200), content: { ...source } },
    { occasion: occasion() },
  );
  // One that can't be kept is chosen again.
  if (!reply.ok) return;
  if (lying.open?.source === source && !lying.written) {
    desk = reply.value.id;
    lay({});
  } else void client.call("desk.throw_away", { form: "source", id: reply.value.id }, { occasion: occasion() });
}

/** No sheet lies there any more, and none is kept. */
export function layAway(client: Client): void {
  throwAway(client);
  lay(NONE);
}

/** It is on record: it stays on screen until the page is left, and isn't kept any more. */
export function layWritten(client: Client): void {
  throwAway(client);
  lay({ written: true });
}

/** What was left, as it was left: with the sheet itself, where it was kept, and null where it is to be chosen again. */
export async function sourceOf(client: Client, { desk: id, name }: Left): Promise<Source | null> {
  if (id === null) return null;
  const reply = await client.call("desk.open", { form: "source", id });
  if (!reply.ok) return null;
  const { text, content } = reply.value.content as { text?: string; content?: string };
  return { name, ...(text === undefined ? {} : { text }), ...(content === undefined ? {} : { content }) };
}

/** Takes up what was left, read again. */
export function layLeft(client: Client, was: Left, source: Source, read: AnswerOf<"sheet.read">): void {
  const { desk: id, reading, mapping, by, leaveOut, create } = was;
  desk = id;
  lay({ open: { source, read, reading, mapping, by }, leaveOut, create });
  if (id === null) void keep(client, source);
}

const listen = (listener: () => void): (() => void) => {
  listeners.add(listener);
  return () => listeners.delete(listener);
};

export function useLying(): Lying {
  useEffect(
    () => () => {
      if (lying.written) lay(NONE);
    },
    [],
  );
  return useSyncExternalStore(listen, () => lying);
}

/** What a window before this one left; null where nothing was left, or it lies open. */
export function useLeft(): Left | null {
  const value = useSyncExternalStore(onForms, () => formOf(KEY)?.value);
  if (lying.open) return null;
  if (left.of !== value) {
    const read = leftShape.safeParse(value);
    left = { of: value, is: read.success ? (read.data as Left) : null };
  }
  return left.is;
}
