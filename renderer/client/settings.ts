/** What this person on this machine prefers; kept by the browser, never in the plant file. */
import { useSyncExternalStore } from "react";
import type { LengthUnit } from "../../core/model/units.ts";
import type { Capabilities, ThemeChoice } from "../../core/operations/wire.ts";
import type { PaperSize } from "../../core/paper/document.ts";

export interface Settings {
  readonly unit: LengthUnit;
  readonly theme: ThemeChoice;
  /** What this person's printer takes. */
  readonly paper: PaperSize;
  /** Who works here; written beside every change. Empty until they said. */
  readonly person: string;
  /** The leaf beside an answer is folded away. */
  readonly leafFolded: boolean;
}

const KEY = "strandbook.settings";
const INITIAL: Settings = { unit: "m", theme: "system", paper: "a4", person: "", leafFolded: false };

const listeners = new Set<() => void>();
let current: Settings = read();

function chosen(): Partial<Settings> {
  try {
    return JSON.parse(localStorage.getItem(KEY) ?? "{}");
  } catch {
    return {};
  }
}

function read(): Settings {
  return { ...INITIAL, ...chosen() };
}

export const settings = {
  get: (): Settings => current,
  set(change: Partial<Settings>): void {
    current = { ...current, ...change };
    localStorage.setItem(KEY, JSON.stringify({ ...chosen(), ...change }));
    for (const listener of listeners) listener();
  },
  /** The plant's own unit, for who hasn't chosen one. */
  suggestUnit(unit: LengthUnit): void {
    if (chosen().unit !== undefined || current.unit === unit) return;
    current = { ...current, unit };
    for (const listener of listeners) listener();
  },
  subscribe(listener: () => void): () => void {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
};

// Another window on this machine changed them.
window.addEventListener("storage", ({ key }) => {
  if (key !== KEY) return;
  current = read();
  document.documentElement.dataset.theme = current.theme;
  for (const listener of listeners) listener();
});

export const useSettings = (): Settings => useSyncExternalStore(settings.subscribe, settings.get);

/** `system` follows the machine; the style sheet does the rest. The shell's own parts follow too. */
export function applyTheme(choice: ThemeChoice, capabilities: Capabilities): void {
  document.documentElement.dataset.theme = choice;
  void capabilities.theme(choice);
}
