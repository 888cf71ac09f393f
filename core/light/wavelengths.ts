/** Wavelengths: those that glass has a value at, and those at which an application sends. */
import type { Limits } from "../standards/limits/in-use.ts";
import { plural } from "../words/counted.ts";
import { listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";

interface Known {
  readonly listed: readonly number[];
  readonly sent: ReadonlyMap<string, readonly Sent[]>;
}

/** One wavelength at which an application sends; `up` and `down` where the two ways differ. */
interface Sent {
  readonly way: "up" | "down" | null;
  readonly nm: number;
}

const HEAD = "wavelength.";
const read = new WeakMap<Limits, Known>();

function knownIn(limits: Limits): Known {
  const before = read.get(limits);
  if (before) return before;
  const tagged = limits.under("attenuation.").flatMap(({ tag }) => {
    const nm = /\.(\d{3,4})(?:\.|$)/.exec(tag)?.[1];
    return nm === undefined ? [] : [Number(nm)];
  });
  const sent = new Map<string, Sent[]>();
  for (const { tag, value } of limits.under(HEAD)) {
    const [, name = "", way] = /^(.+?)(?:\.(up|down))?$/.exec(tag.slice(HEAD.length)) ?? [];
    sent.set(name, [...(sent.get(name) ?? []), { way: (way as Sent["way"] | undefined) ?? null, nm: value }]);
  }
  const known = { listed: [...new Set(tagged)].sort((a, b) => a - b), sent };
  read.set(limits, known);
  return known;
}

/** Wavelengths that some glass has a value at. */
export const listedWavelengths = (limits: Limits): readonly number[] => knownIn(limits).listed;

/**
 * Wavelengths at which an application's light is reckoned: those on record, as far as some glass has a value there. Where
 * none has, all of them: then its loss is not known. None where none is on record: the usual ones of the glass stand in.
 */
export function wavelengthsOf(limits: Limits, application: string): readonly number[] {
  const { listed, sent } = knownIn(limits);
  const all = [...new Set((sent.get(application) ?? []).map(({ nm }) => nm))].sort((a, b) => a - b);
  const reckoned = all.filter((nm) => listed.includes(nm));
  return reckoned.length > 0 ? reckoned : all;
}

const sentAt = ({ nm, way }: Sent): string =>
  way === "up" ? say`upstream at ${nm} nm` : way === "down" ? say`downstream at ${nm} nm` : say`at ${nm} nm`;

/** What of an application's light is in no loss that is told of it, in a sentence; null where all of it is. */
export function unreckonedOf(limits: Limits, application: string): string | null {
  const reckoned = wavelengthsOf(limits, application);
  const left = (knownIn(limits).sent.get(application) ?? []).filter(({ nm }) => !reckoned.includes(nm));
  if (left.length === 0) return null;
  const words = listed(left.map(sentAt));
  // Glass scatters the more, the shorter the wave: below 1310 nm the loss at 1310 nm is too little.
  const more = left.every(({ nm }) => nm < 1310) ? say`, and glass loses more there than at 1310 nm` : "";
  return plural(
    left.length,
    "{1} sends {2}, for which no attenuation is on record: that light is not reckoned{3}.",
    "{1} sends {2}, for which no attenuation is on record: none of that light is reckoned{3}.",
    application,
    words,
    more,
  );
}
