/** The strands of a cable as they lie at one of its stops, unit by unit: which can be taken, and why others can't. */
import { factsInMemory, factsRead, type GlassFacts } from "../feeds/glass-facts.ts";
import { Routes } from "../feeds/routes.ts";
import { type FeedWalk, Walker } from "../feeds/walks.ts";
import { idOf, isPosition, type Side, sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import { type Circuit, Service } from "../glass/service.ts";
import { type Core, coreOf, type FibreClass } from "../light/classes.ts";
import { addressesOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { ColourLayer, RecordRef } from "../trace/answer.ts";
import { type CableFacts, Cables } from "../trace/cables.ts";
import { type SectionFacts, sectionsOf } from "../trace/facts.ts";
import { say } from "../words/say.ts";
import type { Half, Wanted } from "./answer.ts";
import { type FarEnd, farEnds, SHORT } from "./far-end.ts";

/** Glass that ends here, or will once its strand is cut. */
export interface HalfHere {
  /** The section it is now: of a strand still to be cut, the whole one. */
  readonly section: SectionFacts;
  /** Order of the half along the strand, once it is cut. */
  readonly ordinal: number;
  /** Which of its ends lies here, once it is cut. */
  readonly side: Side;
  /** Where its glass ends on its way from here; told of the side wanted. */
  readonly far: FarEnd;
}

export interface StrandHere {
  readonly strand_id: number;
  readonly number: number;
  readonly colours: readonly ColourLayer[];
  readonly words: string;
  readonly fibre: FibreClass | null;
  /** The ribbon it lies in, by its id; null where it lies in none. */
  readonly ribbon: number | null;
  /** Null where it has been cut here before. */
  readonly through: SectionFacts | null;
  readonly halves: Readonly<Record<Half, HalfHere | null>>;
  /** Why it can't be taken; null where it can. */
  readonly taken: string | null;
  readonly kept: boolean;
  readonly proven: boolean;
  /** It has been cut here, so that nothing more is cut for it. */
  readonly ready: boolean;
  /** Whether it ends at a port on the side wanted (0), open where a cable ends (1), or at a cut (2). */
  readonly short: number;
  /** Another job that is open wants it too. */
  readonly promised: RecordRef | null;
  /** Doubts about it, in words. */
  readonly doubts: readonly string[];
  readonly circuits: readonly Circuit[];
}

export interface UnitHere {
  readonly record: RecordRef | null;
  readonly kind: string | null;
  readonly layers: readonly ColourLayer[];
  readonly words: string;
  readonly strands: readonly StrandHere[];
  /** Circuits in service in it here. */
  readonly live: readonly Circuit[];
  readonly opened_before: boolean;
}

export interface StrandsAsked {
  readonly stop: { readonly id: number; readonly ordinal: number };
  readonly side: Wanted;
  /** Glass of another core isn't taken; null takes any. */
  readonly core: Core | null;
  /** So many of the last strands are kept for repair. */
  readonly keep: number;
  readonly today: string;
  readonly held: PlantGlass | null;
  /** Strands that other jobs want, by their ids. */
  readonly promised: ReadonlyMap<number, RecordRef>;
}

export async function unitsAt(
  reader: Reader,
  cables: Cables,
  cable: CableFacts,
  asked: StrandsAsked,
): Promise<UnitHere[]> {
  const { stop, today, held } = asked;
  const ids = await reader.rows<{ id: number; unit_id: number | null }>(
    `select s.id, t.unit_id from strand t join section s on s.strand_id = t.id where t.cable_id = ?
     order by t.number, s.ordinal`,
    [cable.ref.id],
  );
  // Into the cables that are read already.
  await Cables.read(reader, [], new Set(ids.flatMap(({ unit_id }) => unit_id ?? [])), [], cables);
  const all = await sectionsOf(
    reader,
    ids.map(({ id }) => id),
  );
  const sections = ids.flatMap(({ id }) => all.get(id) ?? []);
  const ordinalOf = new Map(cable.stops.map(({ id, ordinal }) => [id, ordinal]));
  const here = sections.filter((section) => touches(section, stop, ordinalOf));
  const ends = here.flatMap(({ id }) => [sectionEnd(id, "A"), sectionEnd(id, "B")]);
  const around = held ? null : await glassAround(reader, ends, today);
  const glass: Glass = around ?? (await (held as PlantGlass).on(reader, today));
  const facts = around ? await factsAround(reader, around.base.ends, today) : factsInMemory(held as PlantGlass, today);
  const service = await Service.read(
    reader,
    here.map(({ id }) => id),
    today,
    glass,
  );
  const walker = new Walker(glass, facts, new Routes());
  const walks = new Map(
    here.flatMap((section) =>
      sidesOf(asked.side).map((half): [number, FeedWalk] => {
        const side = half === "a" ? "B" : "A";
        return [sectionEnd(section.id, side), walker.walk(section, side)];
      }),
    ),
  );
  const walked = (section: SectionFacts, side: Side) => walks.get(sectionEnd(section.id, side)) ?? null;
  const far = await farEnds(
    reader,
    [...walks.values()].map((one) => one.far),
    facts.stopOf,
  );
  const last = Math.max(0, ...sections.map(({ number }) => number));
  const units = new Map<number, { kind: string | null; layers: readonly ColourLayer[]; strands: StrandHere[] }>();
  for (const own of Map.groupBy(here, ({ strand_id }) => strand_id).values()) {
    const [first] = own;
    if (!first) continue;
    const around = cables.unitsAround(first.unit_id);
    const [outer] = around;
    const colours = cables.coloursOf(first);
    const strand = strandHere(own, {
      ...asked,
      glass,
      isFree: (section, side) => walked(section, side)?.free ?? false,
      farOf: (section, side) => far(walked(section, side)?.far ?? null),
      colours,
      fibre: cables.fibreClassOf(first),
      ribbon: around.findLast(({ kind }) => kind === "ribbon")?.id ?? null,
      kept: first.number > last - asked.keep,
      circuits: [...new Set(own.flatMap(({ id }) => service.circuitsOf(id)))],
    });
    const key = outer?.id ?? 0;
    const unit = units.get(key) ?? {
      kind: outer?.kind ?? null,
      layers: outer && outer.kind !== "sheath" ? colours.slice(0, 1).filter(({ what }) => what !== "strand") : [],
      strands: [],
    };
    unit.strands.push(strand);
    units.set(key, unit);
  }
  const names = await addressesOf(
    reader,
    "unit",
    [...units.keys()].filter((id) => id > 0),
  );
  return [...units].map(([id, { kind, layers, strands }]): UnitHere => {
    const live = new Map(
      strands.flatMap(({ circuits }) =>
        circuits.filter(({ state }) => state === "in_service").map((one) => [one.id, one] as const),
      ),
    );
    return {
      record: id > 0 ? { kind: "unit", id, tag: names.get(id) ?? say`unit ${id}` } : null,
      kind,
      layers,
      words: layers.map(({ words }) => words).join(", ") || say`the sheath itself`,
      strands,
      live: [...live.values()].sort((a, b) => (a.priority ?? 1e9) - (b.priority ?? 1e9) || a.tag.localeCompare(b.tag)),
      opened_before: strands.some(({ through }) => through === null),
    };
  });
}

function touches(
  { a_stop_id, b_stop_id }: SectionFacts,
  stop: StrandsAsked["stop"],
  ordinalOf: ReadonlyMap<number, number>,
): boolean {
  if (a_stop_id === stop.id || b_stop_id === stop.id) return true;
  // An end at an unknown stop lies beyond every known one, as for an act that cuts.
  const a = ordinalOf.get(a_stop_id ?? 0) ?? Number.NEGATIVE_INFINITY;
  const b = ordinalOf.get(b_stop_id ?? 0) ?? Number.POSITIVE_INFINITY;
  return a < stop.ordinal && stop.ordinal < b;
}

function factsAround(reader: Reader, ends: Iterable<number>, today: string): Promise<GlassFacts> {
  const [sections, positions] = [new Set<number>(), new Set<number>()];
  for (const end of ends) (isPosition(end) ? positions : sections).add(idOf(end));
  return factsRead(reader, sections, positions, today);
}

const sidesOf = (wanted: Wanted): readonly Half[] => (wanted === "both" ? ["a", "z"] : [wanted]);

interface StrandAsked extends StrandsAsked {
  readonly glass: Glass;
  readonly isFree: (section: SectionFacts, side: Side) => boolean;
  /** Where its glass ends on the way from the end on this side. */
  readonly farOf: (section: SectionFacts, side: Side) => FarEnd;
  readonly colours: readonly ColourLayer[];
  readonly fibre: FibreClass | null;
  readonly ribbon: number | null;
  readonly kept: boolean;
  readonly circuits: readonly Circuit[];
}

function strandHere(own: readonly SectionFacts[], asked: StrandAsked): StrandHere {
  const { stop, colours, fibre, ribbon, kept, circuits } = asked;
  const [first] = own as [SectionFacts];
  const near = own.find(({ b_stop_id }) => b_stop_id === stop.id) ?? null;
  const far = own.find(({ a_stop_id }) => a_stop_id === stop.id) ?? null;
  const through = near || far ? null : first;
  const half = (section: SectionFacts | null, ordinal: number, side: Side): HalfHere | null =>
    section && { section, ordinal, side, far: asked.farOf(section, side) };
  const halves = through
    ? { a: half(through, through.ordinal, "B"), z: half(through, through.ordinal + 1, "A") }
    : { a: half(near, near?.ordinal ?? 0, "B"), z: half(far, far?.ordinal ?? 0, "A") };
  const wanted = sidesOf(asked.side).map((side) => halves[side]);
  const stubs = through ? [] : wanted.map((one) => one && (one.side === "A" ? one.section.a_stub : one.section.b_stub));
  return {
    strand_id: first.strand_id,
    number: first.number,
    colours,
    words: colours.map(({ words }) => words).join(", "),
    fibre,
    ribbon,
    through,
    halves,
    taken: whyTaken(own, wanted, stubs, asked),
    kept,
    proven: first.condition === "good",
    ready: through === null,
    short: wanted.map((one) => (one ? SHORT[one.far.reach] : 0)).reduce<number>((most, one) => Math.max(most, one), 0),
    promised: asked.promised.get(first.strand_id) ?? null,
    doubts: [
      ...(first.condition === "good" ? [] : [say`its condition is not proven`]),
      ...(stubs.includes(null) ? [say`whether a stub is left here is not on record`] : []),
    ],
    circuits,
  };
}

function whyTaken(
  own: readonly SectionFacts[],
  wanted: readonly (HalfHere | null)[],
  stubs: readonly (string | null)[],
  { core, fibre, glass, isFree, circuits }: StrandAsked,
): string | null {
  const [first] = own as [SectionFacts];
  if (first.condition === "broken" || first.condition === "degraded") return first.condition;
  // A strand that is cut here may serve on one side and be free on the other.
  if (stubs.length === 0 && circuits.length > 0) return say`given to a circuit`;
  if (own.length > 2 || wanted.includes(null)) return say`without glass on the side wanted`;
  if (core !== null && fibre !== null && coreOf(fibre) !== core) return say`of another core`;
  for (const half of wanted) {
    if (!half) continue;
    const { section, side } = half;
    const ends = side === "A" ? section.a_stop_id : section.b_stop_id;
    const cutHere = ends !== null && stubs.length > 0;
    if (cutHere && glass.first(sectionEnd(section.id, side)) >= 0) return say`spliced here already`;
    if (!isFree(section, side)) return say`given to a circuit, or joined to what is not free`;
  }
  return stubs.includes("no") ? say`cut here without a stub` : null;
}
