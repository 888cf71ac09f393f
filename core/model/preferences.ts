/** What a person prefers on a machine, for every plant: what each preference is called, means and may be. They lie in no plant file. */
import { say } from "../words/say.ts";

export interface Preference {
  readonly label: string;
  /** What it is for. */
  readonly help: string;
  /** Of a number: its bounds, in the unit that stands behind it. */
  readonly number?: { readonly least: number; readonly most: number; readonly unit: "mm" | "%" | "" };
}

export const PREFERENCES = {
  person: {
    label: say`Who works here`,
    help: say`The name that is written beside each change in the history. It is kept on this machine for every plant, and never in a plant file but beside what was changed.`,
  },
  unit: {
    label: say`Lengths in`,
    help: say`The unit in which lengths are shown, and in which a length without a unit is read. They are stored in metres, whatever is chosen here.`,
  },
  theme: {
    label: say`Light or dark`,
    help: say`Whether the window is dark letters on light or light letters on dark; as the system, it follows the desktop. Paper is always light.`,
  },
  first: {
    label: say`Begin with`,
    help: say`The page that is shown when the program starts and no other is asked for.`,
  },
  paper: {
    label: say`Paper in the printer`,
    help: say`The size of sheet for which papers are laid out when they are printed or saved as PDF. Labels have sheets of their own.`,
  },
  language: {
    label: say`Language`,
    help: say`What the program speaks from its next start. Records, tags and titles in the history stay as they were written.`,
  },
  labelSheet: {
    label: say`Labels`,
    help: say`The sheet or tape that lies in the label printer of this machine, and what that printer does to a page, as measured on its outline test page. The page of labels may take another for once.`,
  },
  shift_x_mm: {
    label: say`Shift right`,
    help: say`How far each label is moved to the right, less than zero to the left: as far as the outlines of the test page lie beside the labels.`,
    number: { least: -50, most: 50, unit: "mm" },
  },
  shift_y_mm: {
    label: say`Shift down`,
    help: say`How far each label is moved down, less than zero up: as far as the outlines of the test page lie above the labels.`,
    number: { least: -50, most: 50, unit: "mm" },
  },
  scale_x: {
    label: say`Scale across`,
    help: say`By how much the page is stretched across, where the rule of 100 mm on the test page measures otherwise.`,
    number: { least: 90, most: 110, unit: "%" },
  },
  scale_y: {
    label: say`Scale down`,
    help: say`By how much the page is stretched from top to bottom, where the rule of 100 mm on the test page measures otherwise.`,
    number: { least: 90, most: 110, unit: "%" },
  },
  dots_per_inch: {
    label: say`Dots to the inch`,
    help: say`How many dots the printer sets to the inch: squares of a code are whole dots, so that they can be read.`,
    number: { least: 100, most: 2400, unit: "" },
  },
} as const satisfies Readonly<Record<string, Preference>>;

export type PreferenceName = keyof typeof PREFERENCES;

/** The preference of that name; undefined where there is none. */
export const preferenceOf = (name: string): Preference | undefined =>
  Object.hasOwn(PREFERENCES, name) ? PREFERENCES[name as PreferenceName] : undefined;
