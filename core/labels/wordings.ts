/**
 * Which wording a label gets, and which wordings are right on it. A label template of the plant comes first, then the
 * plant's own label wording for the kind, then the usual one below. Printing and the checks of labels both ask here, so
 * that what is printed is never what the check calls wrong.
 */
import { KINDS, type KindName, type Row } from "../model/dictionary.ts";
import { blanksOf, type LabelClass, NOT_OUTDOORS, strangeBlanks } from "../model/label-blanks.ts";
import { type LabelPatterns, readPatterns } from "../model/label-text.ts";
import type { Reader } from "../store/handle.ts";
import { plantRow } from "../store/label-facts.ts";
import { say } from "../words/say.ts";

export type CodeForm = "qr" | "data_matrix" | "none";

export interface Wording {
  /** The name by which it is asked for. */
  readonly name: string;
  readonly place: LabelClass;
  readonly text: string;
  readonly code: CodeForm;
  /** `plant`: a label template on record; `pattern`: the plant's label wording for the kind; `usual`: nobody said otherwise. */
  readonly from: "plant" | "pattern" | "usual";
  /** The template on record, and the version of it that was read; null for the others. */
  readonly id: number | null;
  readonly rev: number | null;
}

const usual = (place: LabelClass, text: string, code: CodeForm = "qr"): Wording => ({
  name: `usual ${place}`,
  place,
  text,
  code,
  from: "usual",
  id: null,
  rev: null,
});

/**
 * All but the tag stands in parts that may be left out, so that a record with gaps can be labelled too. Common practice, no
 * source; the standards ask for the tag and both ends, and leave the wording to the owner. No messages: what hangs in the
 * plant is held against them, in whatever language the program speaks. */
export const USUAL_WORDINGS: readonly Wording[] = [
  usual("outdoor", "{tag}\n<{count} strands><, {fibre}>\n<{owner}>\n<Emergency {emergency}>"),
  usual("indoor", "{tag}\n<{count} strands><, {fibre}>\n<{from} to {to}>\n<{ranges}>"),
  usual("port", "{port}\n<{strand}>\n<to {to}>", "none"),
  usual("panel", "{tag}\n<{place}>"),
  usual("closure", "{tag}\n<{place}>\n<{owner}>"),
  usual("tray", "{tag}\n{address}", "data_matrix"),
  usual("pathway", "{tag}\n<{from} to {to}>"),
  usual("conduit", "{tag}\n{address}\n<{from} to {to}>"),
  usual("space", "{address}\n<{name}>\n<{owner}>\n<Emergency {emergency}>"),
  usual("busbar", "{tag}\n<{place}>"),
  usual("firestop", "{tag}\n{address}\n<{rating}>< {system}>\nDo not open without making it good"),
  usual("other", "{tag}"),
];

const CLASS_OF: Readonly<Partial<Record<KindName, LabelClass>>> = {
  port: "port",
  panel: "panel",
  closure: "closure",
  tray: "tray",
  pathway: "pathway",
  conduit: "conduit",
  space: "space",
  busbar: "busbar",
  firestop: "firestop",
};

/** The class of a label. A cable outside any building hangs outdoors; where nobody knows, less is said. */
export const classOf = (kind: KindName, indoors: boolean): LabelClass =>
  kind === "cable" ? (indoors ? "indoor" : "outdoor") : (CLASS_OF[kind] ?? "other");

const classesOf = (kind: KindName): readonly LabelClass[] =>
  kind === "cable" ? ["outdoor", "indoor"] : [CLASS_OF[kind] ?? "other"];

export interface Wordings {
  /** Templates on record, and the usual wording of each class that has none. */
  readonly all: readonly Wording[];
  readonly patterns: LabelPatterns;
}

export function wordingsOf(
  plant: Pick<Row<"plant">, "label_patterns" | "old_label_patterns"> | undefined,
  templates: readonly Pick<Row<"label_template">, "id" | "rev" | "tag" | "place" | "text" | "code">[],
): Wordings {
  const own = templates.map(
    ({ id, rev, tag, place, text, code }): Wording => ({
      ...{ name: tag, place, text, code: code ?? "qr", from: "plant", id, rev },
    }),
  );
  const said = new Set(own.map(({ place }) => place));
  return { all: [...own, ...USUAL_WORDINGS.filter(({ place }) => !said.has(place))], patterns: readPatterns(plant) };
}

export async function readWordings(reader: Reader): Promise<Wordings> {
  const templates = await reader.rows<Row<"label_template">>("select * from label_template order by tag_key, tag");
  return wordingsOf(await plantRow(reader), templates);
}

/** The wording of a label of a kind and class. In the street the plant's wording for the kind counts only if it may hang there. */
export function wordingFor({ all, patterns }: Wordings, kind: KindName, place: LabelClass): Wording {
  const [first] = all.filter((one) => one.place === place);
  if (first?.from === "plant") return first;
  const pattern = patterns.current[kind]?.[0];
  if (pattern !== undefined && (place !== "outdoor" || !tellsWhatItServes(pattern)))
    return {
      ...{ name: say`wording for ${KINDS[kind].one}`, place, text: pattern, code: "qr", from: "pattern" },
      ...{ id: null, rev: null },
    };
  return first ?? { ...usual("other", "{tag}"), place };
}

/** Wordings, beside the plant's label wording, that are right on a label of a kind. */
export const alsoRight = ({ all }: Wordings, kind: KindName): string[] => {
  const classes = classesOf(kind);
  return all.filter(({ place }) => classes.includes(place)).map(({ text }) => text);
};

/** Whether the plant itself says what stands on such a label: then a text that says something else is wrong. */
export const saysItself = ({ all, patterns }: Wordings, kind: KindName, place: LabelClass): boolean =>
  patterns.current[kind] !== undefined ||
  patterns.old[kind] !== undefined ||
  all.some((one) => one.place === place && one.from === "plant");

export const tellsWhatItServes = (text: string): boolean => blanksOf(text).some((name) => NOT_OUTDOORS.has(name));

/** Why a wording can't be used for its class, each as words that follow "the wording"; empty where it can. */
export function faultsOf({ place, text }: Pick<Wording, "place" | "text">): string[] {
  const strange = strangeBlanks(text);
  const outdoors = place === "outdoor" ? blanksOf(text).filter((name) => NOT_OUTDOORS.has(name)) : [];
  return [
    ...strange.map((name) => say`has the blank {${name}}, which refers to nothing`),
    ...outdoors.map((name) => say`has {${name}}: a label in the street doesn't say what the cable serves`),
    ...(text.trim() === "" ? [say`is empty`] : []),
  ];
}
