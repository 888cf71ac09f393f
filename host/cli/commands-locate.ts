/** Where glass is broken. */
import type { InputOf } from "../../core/operations/list.ts";
import { say } from "../../core/words/say.ts";
import type { Command, Given } from "./command.ts";
import { question } from "./commands-ask.ts";
import { UsageError } from "./exit.ts";
import { locatedText } from "./located.ts";
import { metres, metresOf } from "./options.ts";

type Reading = InputOf<"locate.of">["readings"][number];

/** A number with or without its unit: `8.2`, `8.2us`. */
function numberOf(text: string, what: string, unit: RegExp): number {
  const number = Number(text.trim().replace(unit, "").trim());
  if (text.trim() === "" || !Number.isFinite(number)) throw new UsageError(say`${what} is a number, not "${text}".`);
  return number;
}

const PLAIN = /$^/;
const MICROSECONDS = /(us|µs|μs)$/i;

function optional(given: Given, option: string, unit = PLAIN): number | undefined {
  const text = given.option(option);
  return text === undefined ? undefined : numberOf(text, `--${option}`, unit);
}

/** `PLACE=812` or `PLACE=8.2us`, several with semicolons between them. */
function seen(given: Given, option: string): { at: string; distance_m?: number; time_us?: number }[] {
  const parts = (given.option(option) ?? "").split(";").filter((part) => part.trim() !== "");
  return parts.map((part) => {
    const cut = part.lastIndexOf("=");
    if (cut < 1) throw new UsageError(say`--${option} is such as "MH-03=331.3", not "${part.trim()}".`);
    const [at, value] = [part.slice(0, cut).trim(), part.slice(cut + 1).trim()];
    return MICROSECONDS.test(value)
      ? { at, time_us: numberOf(value, `--${option}`, MICROSECONDS) }
      : { at, distance_m: metresOf(value, `--${option}`) };
  });
}

const known = <T extends object>(all: T): T =>
  Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined)) as T;

/** The options as the operation takes them; it refuses what isn't a reading. */
function readings(given: Given): InputOf<"locate.of"> {
  const settings = {
    index: optional(given, "index"),
    wavelength_nm: optional(given, "wavelength", /nm$/i),
    launch_m: metres(given, "launch-m"),
    front_panel_m: metres(given, "front-panel-m"),
    spacing_m: metres(given, "spacing-m"),
  };
  const side = given.option("side") as Reading["side"];
  const first: Reading = {
    from: given.words[1] ?? "",
    distance_m: metres(given, "distance"),
    time_us: optional(given, "time-us", MICROSECONDS),
    ...settings,
    ...(side === undefined ? {} : { side }),
    ...(given.option("known") === undefined ? {} : { known: seen(given, "known") }),
  };
  // Further readings are made with the same instrument, set as it was for the first.
  const further = seen(given, "and").map(({ at, ...shown }): Reading => ({ from: at, ...shown, ...settings }));
  return { readings: [first, ...further].map(known) };
}

export const locateCommand: Command = {
  name: "locate",
  words: ["FILE", "PORT"],
  help: say`Where the glass behind a port is broken, from what an instrument reads there: cable, leg, sheath mark, the places beside it and how far from each, and the band with each of its terms. With --json at least where (cable, mark, between), band (likely_m, bound_m, terms) and candidates; readings that are not of one break have where.kind "apart", band null, each place in places and what contradicts in disagreements.`,
  options: {
    distance: { value: "M", help: say`metres as the instrument shows them, at the index it was set to` },
    "time-us": { value: "US", help: say`instead, microseconds of the round trip` },
    index: { value: "N", help: say`the group index the instrument was set to, such as 1.4682` },
    wavelength: { value: "NM", help: say`the wavelength it was read at` },
    "launch-m": { value: "M", help: say`metres of launch cord that the reading counts; left out, none` },
    "front-panel-m": { value: "M", help: say`metres the instrument shows at its own front panel; left out, 0` },
    "spacing-m": { value: "M", help: say`metres between samples` },
    side: { value: "back|front", help: say`behind the port, or through the cord in front of it` },
    known: {
      value: "PLACE=M;...",
      help: say`events it shows whose place is known, such as "MH-03=331.3; end=1204" (end: the last port on record)`,
    },
    and: { value: "PORT=M;...", help: say`readings from further ports, set alike: from the far end, of other strands` },
  },
  run: (given) => question(given, "locate.of", readings(given), locatedText),
};
