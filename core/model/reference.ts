/** The reference page of record kinds, made from the dictionary: what each kind is, and each of its fields. */

import { withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import { KIND_NAMES, kindOf } from "./dictionary.ts";
import type { Field, Unit } from "./field.ts";
import { type Group, type Kind, provenance } from "./kind.ts";

export const GROUP_TITLES: Readonly<Record<Group, string>> = {
  places: say`Places`,
  ways: say`Ways`,
  cable: say`Cable`,
  glass: say`Glass`,
  patching: say`Patching`,
  service: say`Service`,
  evidence: say`Evidence`,
  work: say`Work`,
  plant: say`Plant`,
};

const UNIT_WORDS: Readonly<Record<Unit, string>> = {
  m: say`metres`,
  mm: say`millimetres`,
  um: say`micrometres`,
  nm: say`nanometres`,
  db: say`decibels`,
  dbm: say`decibel-milliwatts`,
  n: say`newtons`,
  deg: say`degrees`,
  ohm: say`ohms`,
  ratio: say`ratio`,
  mark: say`the cable's own mark unit`,
  count: say`count`,
  none: "",
};

/** What may stand in a field, in words. */
export function allowed(field: Field): string {
  switch (field.type) {
    case "text":
      return say`text, up to ${field.max} characters`;
    case "integer":
      return say`whole number, ${field.min} to ${field.max}`;
    case "number": {
      const unit = UNIT_WORDS[field.unit];
      return say`number${unit ? say` in ${unit}` : ""}, ${field.min} to ${field.max}`;
    }
    case "date":
      return say`day, YYYY-MM-DD`;
    case "choice":
      return say`one of: ${listed(field.values)}`;
    case "set":
      return say`any of: ${listed(field.values)}`;
    case "reference":
      return withArticle(kindOf(field.to as (typeof KIND_NAMES)[number]).one);
    case "kind":
      return say`a record kind`;
    case "subject":
      return say`a record of that kind`;
    case "shape":
      return SHAPE_WORDS[field.shape];
  }
}

const SHAPE_WORDS = {
  line: say`JSON list of [longitude, latitude]`,
  polygon: say`JSON list of [longitude, latitude]`,
  colours: say`JSON list of colour names`,
  overrides: say`JSON object of cable type fields`,
  mark_breaks: say`JSON list of {at_mark, jumps_to}`,
  patterns: say`JSON object of lists of wordings by kind`,
  names: say`JSON list of names`,
  facts: "JSON",
} as const;

const listed = (values: Readonly<Record<string, string>>): string =>
  Object.entries(values)
    .map(([key, words]) => (key === words ? `\`${key}\`` : `\`${key}\` (${words})`))
    .join(", ");

const cell = (text: string): string => text.replaceAll("|", "\\|");

/** How a record of this kind is addressed, as a pattern such as `space/panel:port`. */
export function addressPattern(kind: Kind): string {
  if (!kind.address) return "";
  const parents = kind.address.parents.map((field) => {
    const declared = kind.fields[field];
    return declared?.type === "reference" ? declared.to : field;
  });
  const own = `<${kind.address.name}>`;
  if (parents.length === 0) return own;
  return `<${parents.join(say` or `)}>${kind.address.separator}${own}`;
}

function kindSection(kind: Kind): string[] {
  const address = addressPattern(kind);
  const lines = [`### ${kind.many}`, "", `\`${kind.name}\`. ${kind.help}`, ""];
  if (address) lines.push(say`Address: \`${address}\``, "");
  lines.push(
    say`Told apart by: ${kind.key.map((field) => `\`${field}\``).join(", ")}${kind.unique ? "" : say` (exact repeats are kept and numbered)`}.`,
    "",
    say`| field | called | needed | holds | meaning |`,
    "| --- | --- | --- | --- | --- |",
  );
  for (const [name, field] of Object.entries(kind.fields)) {
    if (Object.hasOwn(provenance, name)) continue;
    lines.push(
      `| \`${name}\` | ${cell(field.label)} | ${field.required ? "yes" : ""} | ${cell(allowed(field))} | ${cell(field.help)} |`,
    );
  }
  lines.push("");
  return lines;
}

/** The whole page as Markdown. */
export function referencePage(): string {
  const lines = [
    say`# Record kinds`,
    "",
    say`Made from the dictionary by \`npm run reference\`; a test holds it there. Empty means *not known*, never zero.`,
    "",
    say`Every kind but a few also has these fields:`,
    "",
    say`| field | called | holds | meaning |`,
    "| --- | --- | --- | --- |",
    ...Object.entries(provenance).map(
      ([name, field]) => `| \`${name}\` | ${cell(field.label)} | ${cell(allowed(field))} | ${cell(field.help)} |`,
    ),
    "",
  ];
  for (const group of Object.keys(GROUP_TITLES) as Group[]) {
    lines.push(`## ${GROUP_TITLES[group]}`, "");
    for (const name of KIND_NAMES) if (kindOf(name).group === group) lines.push(...kindSection(kindOf(name)));
  }
  return `${lines.join("\n").trimEnd()}\n`;
}
