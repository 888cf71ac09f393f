/** What one cable is, read in sets: a few statements whatever its size. */
import { sectionEnd } from "../glass/end.ts";
import { glassAround } from "../glass/line-glass.ts";
import { Service } from "../glass/service.ts";
import type { Row } from "../model/dictionary.ts";
import { FIBRE_CLASSES } from "../model/lists.ts";
import { formatLength, type LengthUnit } from "../model/units.ts";
import { addressesOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { counted, plural } from "../words/counted.ts";
import { asKnown } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { RecordRef } from "./answer.ts";
import type { CableAnswer, CableStrand, CableUnit } from "./cable-answer.ts";
import { type CableCourse, courseOf } from "./cable-course.ts";
import { type TypedCable, typeFacts } from "./cable-facts.ts";
import { type CableFacts, Cables } from "./cables.ts";
import { basesOf, Evidence } from "./evidence.ts";
import { addressUnder, markCut, type SectionFacts, sectionsOf, strandWords } from "./facts.ts";
import { circuitRef } from "./hops.ts";
import { stateOf } from "./state.ts";

const ref = (kind: RecordRef["kind"], id: number, tag: string): RecordRef => ({ kind, id, tag });

/** @param what a cable's tag, or its id. Refuses `not_found` and `ambiguous`. */
export async function cableSheet(reader: Reader, what: string | number, today: string): Promise<CableAnswer> {
  const id =
    typeof what === "number" ? what : (await resolveOne(reader, what, { kinds: ["cable"], field: "cable" })).id;
  const ids = await reader.rows<{ id: number; unit_id: number | null }>(
    `select s.id, t.unit_id from strand t join section s on s.strand_id = t.id where t.cable_id = ? order by t.number, s.ordinal`,
    [id],
  );
  const units = new Set(ids.flatMap(({ unit_id }) => unit_id ?? []));
  const cables = await Cables.read(reader, [id], units);
  const facts = cables.byId.get(id);
  const typed = await typeFacts(reader, id);
  if (!facts || !typed) throw new Error(`cable ${id} was resolved and is not there`);
  const sections = await sectionsOf(
    reader,
    ids.map((row) => row.id),
  );
  await markCut(reader, sections.values(), (stop) => cables.stops.get(stop ?? 0)?.kind === "end");
  const inside = await insideOf(reader, cables, facts, [...sections.values()], today);
  const course = await courseOf(reader, cables, facts, [...sections.values()]);
  const evidence = await Evidence.read(reader, [{ kind: "cable", id }], cables.spaces.keys(), [id], []);
  const [plant] = await reader.rows<{ length_unit: LengthUnit }>("select length_unit from plant limit 1");
  const cut = new Set([...sections.values()].flatMap((section) => (section.cut ? [section.strand_id] : []))).size;
  const strands = inside.reduce((sum, unit) => sum + unit.strands.length, 0);
  return {
    cable: facts.ref,
    ...typed.sheet,
    ...course,
    units: inside,
    strands,
    cut,
    last_visit: evidence.lastVisit([], [id], [facts]),
    basis: basesOf([facts]),
    sentence: sentence(facts, typed, course, strands, cut, plant?.length_unit ?? "m"),
    cautions: cautions(typed),
  };
}

/** Strands by the unit they lie in, in the order of their numbers. */
async function insideOf(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  sections: readonly SectionFacts[],
  today: string,
): Promise<CableUnit[]> {
  const stopAt = new Map(cable.stops.map(({ id }, index) => [id, index]));
  const place = (stop: number | null): number | null => (stop === null ? null : (stopAt.get(stop) ?? null));
  // Only glass that ends at an opening or cut can be dead, so only that is followed.
  const open = sections.flatMap(({ id, a_stop_id, b_stop_id }) =>
    [a_stop_id, b_stop_id].flatMap((stop, side) => {
      const kind = cables.stops.get(stop ?? 0)?.kind;
      return kind === "opened" || kind === "severed" ? [sectionEnd(id, side === 0 ? "A" : "B")] : [];
    }),
  );
  const glass = await glassAround(reader, open, today);
  const service = await Service.read(
    reader,
    sections.map(({ id }) => id),
    today,
    glass,
  );
  const names = await unitNames(reader, sections);
  const units: { key: number; unit: CableUnit & { strands: CableStrand[] } }[] = [];
  for (const own of Map.groupBy(sections, ({ strand_id }) => strand_id).values()) {
    const [first] = own;
    if (!first) continue;
    const tag = addressUnder("strand", cable.ref.tag, first.number);
    const colours = cables.coloursOf(first);
    const strand: CableStrand = {
      strand: ref("strand", first.strand_id, tag),
      number: first.number,
      colours,
      sections: own.map((section) => {
        const { state, why } = stateOf(section, cable, service, glass, (stop) => cables.stops.get(stop));
        return {
          section: ref("section", section.id, strandWords(cable.ref.tag, section)),
          state,
          why,
          circuits: service.circuitsOf(section.id).map(circuitRef),
          from: place(section.a_stop_id),
          to: place(section.b_stop_id),
        };
      }),
    };
    const key = first.unit_id ?? 0;
    const last = units.at(-1);
    if (last?.key === key) last.unit.strands.push(strand);
    else {
      const fibre = cables.fibreClassOf(first);
      const unit = {
        record: first.unit_id === null ? null : ref("unit", first.unit_id, names.get(first.unit_id) ?? ""),
        layers: colours.filter((layer) => layer.what !== "strand"),
        fibre: fibre && FIBRE_CLASSES[fibre],
        strands: [strand],
      };
      units.push({ key, unit });
    }
  }
  return units.map(({ unit }) => unit);
}

const unitNames = (reader: Reader, sections: readonly SectionFacts[]): Promise<Map<number, string>> =>
  addressesOf(reader, "unit", [...new Set(sections.flatMap(({ unit_id }) => unit_id ?? []))]);

function sentence(
  cable: CableFacts,
  typed: TypedCable,
  course: CableCourse,
  strands: number,
  cut: number,
  unit: LengthUnit,
): string {
  const [first, last] = [course.stops[0], course.stops.at(-1)];
  const name = (stop: typeof first): string =>
    stop?.place.space ? (stop.place.building_name ?? stop.place.space.tag) : say`a place that nobody knows`;
  const inside = strands === 0 ? say`whose strands are not on record` : say`of ${counted(strands, "strand")}`;
  const parts = [NAMED[typed.life](inside)];
  const building = first?.place.building;
  if (building && first !== last && building.id === last?.place.building?.id) {
    parts.push(
      say`in ${first.place.building_name ?? building.tag}, from ${first.place.space?.tag} to ${last.place.space?.tag}`,
    );
  } else if (!first || !last || first === last) parts.push(say`whose course is not on record`);
  else parts.push(say`from ${name(first)} to ${name(last)}`);
  const said = [parts.join(" ")];
  if (course.length_m === null) said.push(say`length not on record`);
  else {
    const length = asKnown(formatLength(course.length_m, unit), course.lacks.length === 0);
    said.push(
      course.length_from === "marks"
        ? say`${length} of sheath by its marks`
        : course.length_from === "pathway"
          ? say`${length} of sheath by the length of its pathways`
          : course.length_from === "planned"
            ? say`${length} of sheath as planned, for its marks are not read`
            : course.length_from === "record"
              ? say`${length} of sheath as it was measured`
              : say`${length} of sheath, partly by its marks`,
    );
  }
  if (course.coils_m !== null && course.coils_m > 0) said.push(say`${formatLength(course.coils_m, unit)} of it coiled`);
  const whole = strands - cut;
  const opened = course.stops.filter(({ cut: own }) => own > 0).flatMap(({ place }) => place.space?.tag ?? []);
  const cuts =
    cut === 0
      ? strands > 0 && course.stops.length > 2
        ? say` All strands run through.`
        : ""
      : whole === 0
        ? say` No strand runs through; ${cut} cut at ${opened.join(", ")}.`
        : plural(
            whole,
            " {0} strand runs through; {1} cut at {2}.",
            " {0} strands run through; {1} cut at {2}.",
            cut,
            opened.join(", "),
          );
  const owner = cable.foreign_owner ? say` It belongs to ${cable.foreign_owner}.` : "";
  return `${said.join(", ")}.${cuts}${owner}`;
}

/** A cable as its life is, with how many strands lie in it. */
const NAMED: Readonly<Record<Row<"cable">["life"], (inside: string) => string>> = {
  planned: (inside) => say`A planned cable ${inside}`,
  in_stock: (inside) => say`A cable in stock ${inside}`,
  in_place: (inside) => say`A cable ${inside}`,
  out_of_use: (inside) => say`A cable out of use ${inside}`,
  removed: (inside) => say`A removed cable ${inside}`,
};

function cautions(typed: TypedCable): string[] {
  const all = [
    say`Treat every end as lit: this light cannot be seen. Identify the cable twice before cutting anything.`,
  ];
  if (typed.metallic) {
    all.push(
      say`Metal between buildings carries lightning and fault current. Whoever is licensed under the local code decides on bonding.`,
    );
  }
  return all;
}
