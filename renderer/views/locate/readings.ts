/** What was typed of instruments' readings, as the question takes it: metres, or microseconds of the round trip. */
import type { InputOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import { readNumber } from "../../grid/reading-numbers.ts";

type Input = InputOf<"locate.of">;
type Reading = Input["readings"][number];
type Shown = { readonly distance_m?: number; readonly time_us?: number };

/** `812`, `812 m` or `8.2 µs`; null where it is neither. */
function shown(text: string): Shown | null {
  const [, figures = "", unit = ""] = /^(.*?)\s*(m|µs|us)?$/i.exec(text.trim()) ?? [];
  const number = readNumber(figures, "none", "m");
  if (typeof number !== "number") return null;
  return /s$/i.test(unit) ? { time_us: number } : { distance_m: number };
}

/** `MH-03/CL-1=331.3; end=812`: what was read at which place; null where one of them can't be read. */
function pairs(text: string | undefined): readonly ({ readonly at: string } & Shown)[] | null {
  const parts = (text ?? "").split(";").filter((part) => part.trim() !== "");
  const read = parts.map((part) => {
    const cut = part.lastIndexOf("=");
    const value = shown(part.slice(cut + 1));
    const at = part.slice(0, cut).trim();
    return cut < 1 || value === null || at === "" ? null : { at, ...value };
  });
  return read.every((one) => one !== null) ? read : null;
}

function setting(text: string | undefined): number | null | undefined {
  if (!text?.trim()) return null;
  const number = readNumber(text, "none", "m");
  return typeof number === "number" ? number : undefined;
}

/** The question; null while something it needs is empty; or in a sentence what can't be read. */
export function readingsOf(values: Readonly<Record<string, string>>): Input | string | null {
  const { of = "", metres = "" } = values;
  const [index, launch] = [setting(values.index), setting(values.launch)];
  if (index === undefined || launch === undefined)
    return say`The index and the launch cord must be numbers, such as 1.4682 and 150.`;
  const also = pairs(values.also);
  if (!also) return say`Other readings are written such as SCI/B01/P:01=430; a semicolon stands between two.`;
  const known = pairs(values.known);
  if (!known) return say`Known events are written such as MH-03/CL-1=331.3; a semicolon stands between two.`;
  if (!of || !metres.trim()) return null;
  const first = shown(metres);
  if (!first) return say`What the instrument shows must be a number, such as 812, or 8.2 µs of the round trip.`;
  const settings = { ...(index === null ? {} : { index }), ...(launch === null ? {} : { launch_m: launch }) };
  return {
    readings: [
      { from: of, ...first, ...settings, ...(known.length > 0 ? { known: [...known] } : {}) },
      // Further readings are made with the same instrument, set as it was for the first.
      ...also.map(({ at, ...read }): Reading => ({ from: at, ...read, ...settings })),
    ],
  };
}
