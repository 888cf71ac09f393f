/** What the application menu, the foot, the keys and the list of acts do, and what a view on screen adds to that list. */
import { useEffect, useRef } from "react";
import type { RecordRef } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import type { Client } from "../client/client.ts";
import { applyTheme, settings } from "../client/settings.ts";
import { notify, sayRefused } from "./notices.tsx";

export const NEXT_THEME = { system: "light", light: "dark", dark: "system" } as const;

export function turnTheme(client: Client): void {
  const next = NEXT_THEME[settings.get().theme];
  settings.set({ theme: next });
  applyTheme(next, client.capabilities);
}

/** Makes a backup now and says where it is. */
export async function backUp(client: Client): Promise<void> {
  const reply = await client.call("plant.backup", {});
  if (reply.ok) notify(say`Backed up to ${reply.value.path}.`);
  else sayRefused(reply.error);
}

/** At the beginning of the search box: acts are meant, not records. */
export const ACTS_SIGN = ">";

/** Goes to the search box; what stands there from before is replaced by what is typed now. */
export function focusSearch(begin = ""): void {
  const field = document.querySelector<HTMLInputElement>("[data-search]");
  if (!field) return;
  // The box opens its list when it is come to: whoever is in it with the list closed comes to it anew.
  if (field === document.activeElement) field.blur();
  field.focus();
  field.select();
  // As if it had been typed: the box hears it like any key.
  if (begin) document.execCommand("insertText", false, begin);
}

/** An act in the list that the search box offers. */
export interface Offer {
  /** Unique in the list. */
  readonly key: string;
  /** Begins with what is done: "fill down". */
  readonly words: string;
  /** Where it belongs, or on what it acts now. */
  readonly about: string;
  /** Its heading in the list, where that isn't made of what it is about. */
  readonly group?: string;
  /** Its key, as the page of keys writes it. */
  readonly keys?: string | null;
  readonly run: () => void;
}

type Offering = () => readonly Offer[];

const offering = new Set<Offering>();

/** What the parts of the window that are on screen offer now. */
export const offeredHere = (): readonly Offer[] => [...offering].flatMap((one) => one());

let pointed: (() => RecordRef | null) | null = null;

/** The record one is on: the row of a table, the page of a record. */
export const pointedAt = (): RecordRef | null => pointed?.() ?? null;

/** Says which record one is on, while the part is on screen: what can be asked of it is in the list. */
export function usePointedAt(record: RecordRef | null): void {
  const newest = useRef(record);
  newest.current = record;
  useEffect(() => {
    const own = () => newest.current;
    pointed = own;
    return () => {
      if (pointed === own) pointed = null;
    };
  }, []);
}

/** Offers acts while the part is on screen; asked anew whenever the list is opened. */
export function useOffering(offers: Offering): void {
  const newest = useRef(offers);
  newest.current = offers;
  useEffect(() => {
    const one: Offering = () => newest.current();
    offering.add(one);
    return () => {
      offering.delete(one);
    };
  }, []);
}
