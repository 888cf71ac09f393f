/** What this person on this machine prefers; kept by the program for every start and every plant, never in the plant file. */
import { useSyncExternalStore } from "react";
import type { LengthUnit } from "../../core/model/units.ts";
import type { Capabilities, ThemeChoice } from "../../core/operations/wire.ts";
import type { PaperSize } from "../../core/paper/document.ts";
import { say } from "../../core/words/say.ts";
import { kept } from "./kept.ts";

/** What the printer of labels does to a page, as measured on a test page. */
export interface LabelPrinter {
  readonly shift_x_mm: number;
  readonly shift_y_mm: number;
  readonly scale_x: number;
  readonly scale_y: number;
  readonly dots_per_inch: number;
}
/** What the program may begin with. */
export const BEGINNINGS = {
  ask: say`the list of questions`,
  find: say`where a strand goes`,
  enter: say`the tables`,
  check: say`the findings`,
} as const;

/** What a printer may take. */
export const PAPERS: Readonly<Record<PaperSize, string>> = { a4: "A4", letter: say`Letter` };

export interface Settings {
  readonly unit: LengthUnit;
  readonly theme: ThemeChoice;
  /** What this person's printer takes. */
  readonly paper: PaperSize;
  /** Who works here; written beside every change. Empty until they said. */
  readonly person: string;
  /** What is shown when the program starts. */
  readonly first: keyof typeof BEGINNINGS;
  /** A label sheet or tape by its name; empty for the plant's usual one. */
  readonly labelSheet: string;
  /** The step of the tour that is next, from 0; and whether its strip is shown. */
  readonly tour: number;
  readonly touring: boolean;
  /** The leaf beside an answer is folded away. */
  readonly leafFolded: boolean;
  /** Under a table's rows stand only findings that may hurt somebody; the marks tell of all. */
  readonly findingsFolded: boolean;
  readonly labelPrinter: LabelPrinter;
  /** Labels that were printed are put on record as printed. */
  readonly recordPrinted: boolean;
  /** What the program speaks from its next start, as BCP 47 names it; empty for English. */
  readonly language: string;
}

const INITIAL: Settings = {
  unit: "m",
  theme: "system",
  paper: "a4",
  person: "",
  leafFolded: false,
  findingsFolded: false,
  labelPrinter: { shift_x_mm: 0, shift_y_mm: 0, scale_x: 1, scale_y: 1, dots_per_inch: 300 },
  recordPrinted: true,
  first: "ask",
  labelSheet: "",
  tour: 0,
  touring: false,
  language: "",
};

const listeners = new Set<() => void>();
/** The plant's own, for who hasn't chosen one. */
let suggested: Partial<Settings> = {};
let current: Settings = INITIAL;

const chosen = (): Partial<Settings> => kept.of("settings");

function tell(): void {
  current = { ...INITIAL, ...suggested, ...chosen() };
  for (const listener of listeners) listener();
}

export const settings = {
  get: (): Settings => current,
  set(change: Partial<Settings>): void {
    kept.keep("settings", change);
    tell();
  },
  /** The plant's own unit, for who hasn't chosen one. */
  suggestUnit(unit: LengthUnit): void {
    if (current.unit === unit) return;
    suggested = { ...suggested, unit };
    tell();
  },
  subscribe(listener: () => void): () => void {
    listeners.add(listener);
    return () => listeners.delete(listener);
  },
  /** After what is kept was recalled. */
  begin(): void {
    tell();
    // Another window on this machine changed them.
    kept.onChange((name) => {
      if (name !== "settings") return;
      tell();
      document.documentElement.dataset.theme = current.theme;
    });
  },
};

export const useSettings = (): Settings => useSyncExternalStore(settings.subscribe, settings.get);

/** `system` follows the machine; the style sheet does the rest. The shell's own parts follow too. */
export function applyTheme(choice: ThemeChoice, capabilities: Capabilities): void {
  document.documentElement.dataset.theme = choice;
  void capabilities.theme(choice);
}
