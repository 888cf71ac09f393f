/**
 * What a finding rests on, in words: a fact by its name, and its value where that is a key of a closed list. Facts are told
 * apart by their names and keys, which are the same in every language; only papers say them.
 */
import { kindOf } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { choiceWords, shownDay } from "../model/wording.ts";
import { say } from "../words/say.ts";

/** A fact that is a field of a record is said as that field is. */
const ofField = (kind: Parameters<typeof kindOf>[0], name: string): FactWords => {
  const field = (kindOf(kind).fields as Readonly<Record<string, Field>>)[name];
  if (!field) throw new Error(`${kind} has no field ${name}`);
  return { words: field.label, ...(field.type === "choice" ? { keys: field.values } : {}) };
};

interface FactWords {
  readonly words: string;
  /** The words of its keys, where it has one of a closed list. */
  readonly keys?: Readonly<Record<string, string>>;
}

const YES_NO = { yes: say`yes`, no: say`no` };
const only = (words: string, keys?: FactWords["keys"]): FactWords => ({ words, ...(keys ? { keys } : {}) });

const kindsOfPlaces = (): FactWords => {
  const [way, space] = [ofField("pathway", "kind"), ofField("space", "kind")];
  return { words: way.words, keys: { ...space.keys, ...way.keys } };
};

const metalStates = (): FactWords => {
  const of = ofField("stop", "metal");
  return {
    ...of,
    keys: { ...of.keys, no_metal: say`no metal`, not_on_record: say`not on record`, unknown: say`not known` },
  };
};

/** Why a section or a pipe lies astray; other reasons are words already. */
const WHYS = {
  "another cable": say`a stop is of another cable`,
  "wrong order": say`the end comes before the beginning`,
  overlap: say`it overlaps the section before it`,
  itself: say`it lies in itself`,
  "another way": say`it lies in another way`,
};

const WORDS: ReadonlyMap<string, FactWords> = new Map([
  ["against", only(say`another label says`)],
  ["armour", ofField("cable_type", "armour")],
  ["arrive", only(say`strands that arrive`)],
  ["arrives_dbm", only(say`arrives, dBm`)],
  ["at_least", only(say`at least so much, for something is not known`, YES_NO)],
  ["attenuator_db", only(say`attenuator that would do, dB`)],
  ["back_n", only(say`pulled from the other end, N`)],
  ["bands", only(say`bands`)],
  ["bends_deg", only(say`bends, degrees`)],
  ["bends_over", only(say`more bends than, degrees`)],
  ["bore_mm", only(say`bore, mm`)],
  ["by_type", only(say`by its type`)],
  ["cables", only(say`cables`)],
  ["capacity", only(say`takes`)],
  ["changed_on", only(say`path changed on`)],
  ["circuits", only(say`circuits`)],
  ["classes", only(say`classes of glass`)],
  ["closed_on", only(say`closed on`)],
  ["coating_um", ofField("unit", "coating_um")],
  ["construction", ofField("cable_type", "construction")],
  ["contradicts", only(say`contradicts its marking`)],
  ["cords", only(say`cords`)],
  ["days", only(say`days`)],
  ["depth_m", only(say`depth, m`)],
  ["edges", only(say`edges of the opening`)],
  ["end_in", only(say`glass ends in`)],
  ["ends", only(say`ends`)],
  ["environment", ofField("pathway", "environment")],
  ["fields", only(say`fields`)],
  ["followed", only(say`followed by a lasting mend`)],
  ["free", only(say`free`)],
  ["from", only(say`from`)],
  ["gaps", only(say`gaps`)],
  ["hangs", only(say`hangs`, YES_NO)],
  ["has", only(say`has`)],
  ["held", only(say`holds`)],
  ["holders", only(say`holders`)],
  ["inside", only(say`inside`)],
  ["installed_on", only(say`cable laid on`)],
  ["joins", only(say`joins`)],
  ["joints", only(say`joints`)],
  ["kept_in", only(say`kept in`)],
  ["kind", kindsOfPlaces()],
  ["label", only(say`its label says`)],
  ["labels", only(say`labels`)],
  ["lacks", only(say`lacks`)],
  ["last", only(say`the last is`)],
  ["least_db", only(say`least, dB`)],
  ["least_m", only(say`least, m`)],
  ["least_mm", only(say`least, mm`)],
  ["life", ofField("panel", "life")],
  ["limit", only(say`limit`)],
  ["limit_percent", only(say`limit, percent`)],
  ["lost_m", only(say`sheath lost at a break, m`)],
  ["made_for", ofField("cable_type", "environment")],
  ["marking", ofField("cable_type", "fire_marking")],
  ["measured_db", only(say`measured, dB`)],
  ["measured_m", only(say`measured, m`)],
  ["measured_on", only(say`measured on`)],
  ["metal", ofField("cable_type", "metal")],
  ["method", ofField("termination", "method")],
  ["metres", only(say`metres`)],
  ["most_db", only(say`most, dB`)],
  ["most_n", only(say`it bears, N`)],
  ["mouths", only(say`marks at the mouths`)],
  ["needed", only(say`strands needed`)],
  ["needs", only(say`needs`)],
  ["of", only(say`of strands`)],
  ["old_wording", only(say`in an old wording`)],
  ["open_m", only(say`not mendable, m`)],
  ["over_db", only(say`too much by, dB`)],
  ["overdue", only(say`overdue`)],
  ["percent", only(say`percent`)],
  ["places", only(say`places`)],
  ["plug", only(say`plug`)],
  ["port", only(say`port`)],
  ["ports", only(say`ports`)],
  ["positions", only(say`positions`)],
  ["published", only(say`published`)],
  ["radius_mm", only(say`radius, mm`)],
  ["ratio", only(say`ratio`)],
  ["read", only(say`it says`)],
  ["reasons", only(say`reasons`)],
  ["recorded_m", only(say`recorded, m`)],
  ["replace_by", only(say`to be replaced by`)],
  ["reserved_until", only(say`reserved until`)],
  ["sections", only(say`sections`)],
  ["seen_on", only(say`seen on`)],
  ["shared", only(say`shared`)],
  ["sides", only(say`sides`, { A: "A", B: "B", back: say`back`, front: say`front` })],
  ["since", only(say`since`)],
  ["sizes_mm", only(say`cables, mm`)],
  ["slack_m", only(say`slack, m`)],
  ["state", metalStates()],
  ["stops", only(say`stops`)],
  ["stops_with_marks", only(say`stops with marks`)],
  ["straight", only(say`spliced straight`)],
  ["strands", only(say`strands`)],
  ["stretches", only(say`stretches`)],
  ["tags", only(say`tags`)],
  ["texts", only(say`texts`)],
  ["there_n", only(say`pulled along the way, N`)],
  ["things", only(say`things`)],
  ["to", only(say`to`)],
  ["to_prove_m", only(say`mendable if what is not proven holds, m`)],
  ["turns", only(say`marks before and after`)],
  ["until", only(say`until`)],
  ["used", only(say`in use`)],
  ["uv_resistant", ofField("cable_type", "uv_resistant")],
  ["value", only(say`value`)],
  ["wanted", only(say`wanted`)],
  ["wanted_m", only(say`wanted, m`)],
  ["water_blocking", ofField("cable_type", "water_blocking")],
  ["way", only(say`marks run`, { "1": say`upwards`, "-1": say`downwards` })],
  ["way_m", only(say`its way, m`)],
  ["ways", only(say`ways`)],
  ["why", only(say`why`, WHYS)],
  ["would", only(say`the record says`)],
]);

/** Whether a fact has words; each one that a rule answers must. */
export const isSaid = (name: string): boolean => name === FOUND || WORDS.has(name);

/** What several places of one case have is a list of facts each. */
const FOUND = "found";
const MOST_FACTS = 6;
const MOST_VALUES = 8;

/** "measured, m: 612; recorded, m: 271.3"; what is not known says so, and of many the first few are named. */
export function factWords(facts: Readonly<Record<string, unknown>>): string {
  const all = Object.entries(facts).map(([name, value]) =>
    name === FOUND && Array.isArray(value) ? foundWords(value) : `${nameWords(name)}: ${valueWords(name, value)}`,
  );
  return (all.length > MOST_FACTS ? [...all.slice(0, MOST_FACTS), say`and ${all.length - MOST_FACTS} more`] : all).join(
    "; ",
  );
}

/** Places with the same facts are said once. */
function foundWords(found: readonly unknown[]): string {
  const each = found.map((one) =>
    Object.entries(one as Readonly<Record<string, unknown>>)
      .map(([name, value]) => `${nameWords(name)} ${valueWords(name, value)}`)
      .join(", "),
  );
  const alike = Map.groupBy(each, (one) => one);
  return few(
    [...alike].map(([words, same]) => (same.length > 1 ? `${words} (× ${same.length})` : words)),
    "; ",
  );
}

const nameWords = (name: string): string => WORDS.get(name)?.words ?? name.replaceAll("_", " ");

function valueWords(name: string, value: unknown): string {
  if (value === null || value === undefined) return say`not known`;
  if (Array.isArray(value)) {
    return (
      few(value.map((one) => (Array.isArray(one) ? one.map(String).join(" → ") : valueWords(name, one)))) || say`none`
    );
  }
  const text = typeof value === "number" ? String(Math.round(value * 1000) / 1000) : String(value);
  const [, ordinal, kind] = (name === "stops" && /^(\d+) (\w+)$/.exec(text)) || [];
  if (ordinal && kind) return `${ordinal} ${choiceWords("stop", "kind", kind)}`;
  const said = WORDS.get(name)?.keys?.[text];
  if (said !== undefined) return said;
  return /^\d{4}-\d\d-\d\d$/.test(text) ? shownDay(text) : text.replace(/\s*\n\s*/g, " / ");
}

const few = (words: readonly string[], between = ", "): string =>
  words.length > MOST_VALUES
    ? say`${words.slice(0, MOST_VALUES).join(between)} and ${words.length - MOST_VALUES} more`
    : words.join(between);
