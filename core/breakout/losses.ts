/**
 * What the new circuits would lose: from where the strand ends on the far side to the opening, over the splice to be
 * made, and along the lateral to a plug at its far end. The half of a strand that is still whole is told by its sheath.
 */

import { applicationsIn } from "../light/applications.ts";
import type { FibreClass } from "../light/classes.ts";
import { classWords, coreOf, lowestOf, modeOf } from "../light/classes.ts";
import { type LightFacts, readLightFacts } from "../light/facts.ts";
import { LightLine } from "../light/line.ts";
import { editionOf, USUAL } from "../light/loss.ts";
import { type LossTerm, sumOf, type TermKind, toDecibel } from "../light/terms.ts";
import { Values, type Worst } from "../light/values.ts";
import { wavelengthsOf } from "../light/wavelengths.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop, RecordRef, TraceEnd } from "../trace/answer.ts";
import type { Cables } from "../trace/cables.ts";
import { toMillimetre } from "../trace/totals.ts";
import { traced } from "../trace/trace.ts";
import { say } from "../words/say.ts";
import type { CircuitLoss, Half } from "./answer.ts";
import { farWords, SHORT } from "./far-end.ts";
import type { Lateral } from "./lateral.ts";
import { verdictOf } from "./runs.ts";
import type { HalfHere, StrandHere } from "./strands.ts";

/** So many strands of a set are reckoned at most, one a unit: in a unit they differ by their joints alone. */
const MOST_STRANDS = 3;

export interface LossAsked {
  readonly limits: Limits;
  readonly today: string;
  readonly cables: Cables;
  readonly stop: { readonly id: number };
  readonly place: RecordRef;
  readonly cable: { readonly id: number; readonly tag: string };
  readonly lateral: Lateral;
  /** Sheath of each half up to the window, beyond half of what lies at the stop: the window counts in neither. */
  readonly edge_m: Readonly<Record<Half, number>>;
  /** As limits have it; null where none is wanted. */
  readonly application: string | null;
}

/** Towards one side: of the strand that loses most; one that ends at no port loses all. */
export async function lossTowards(
  reader: Reader,
  towards: Half,
  strands: readonly StrandHere[],
  asked: LossAsked,
): Promise<CircuitLoss | null> {
  const found: CircuitLoss[] = [];
  for (const strand of strands.slice(0, MOST_STRANDS)) {
    const half = strand.halves[towards];
    if (half) found.push(await lossOf(reader, towards, strand, half, asked));
  }
  const most = ({ wavelengths: [first] }: CircuitLoss): number => first?.worst_loss_db ?? -1;
  const [worst] = found.sort((a, b) => SHORT[b.reach] - SHORT[a.reach] || most(b) - most(a));
  return worst ? { ...worst, reckoned: found.length } : null;
}

interface FarLine {
  /** From the far end to the opening. */
  readonly hops: readonly Hop[];
  readonly end: TraceEnd;
}

async function lossOf(
  reader: Reader,
  towards: Half,
  strand: StrandHere,
  half: HalfHere,
  asked: LossAsked,
): Promise<CircuitLoss> {
  const { limits, lateral, place } = asked;
  const { answer, facts } = await traced(reader, { kind: "section", id: half.section.id }, asked.today);
  const far = farLine(answer.lines[0]?.hops ?? [], answer, towards, strand, half, asked);
  const light = readingsLeft(await readLightFacts(reader, far.hops, facts), far.hops, half);
  const line = new LightLine(far.hops, light, limits);
  const { edition } = editionOf(limits, undefined);
  const reckoned = (wavelength_nm: number, worst: Worst) => {
    const way = { direction: "a_to_b", worst, as: "channel", reference_method: "one_cord", edition } as const;
    const own = line.loss({ ...way, by_formula: false, wavelength_nm });
    const values = new Values(limits, { wavelength_nm, worst, edition });
    const more = toMake(values, own.classes.at(-1) ?? null, far.hops.length, place, lateral);
    return { ...own, terms: [...own.terms, ...more.terms], lateral_m: more.length_m };
  };
  const first = reckoned(1310, "typical");
  const fibre = lateral.fibre ?? first.classes.at(-1) ?? null;
  const classes = [...new Set([...first.classes, ...(fibre ? [fibre] : [])])];
  const mode = fibre && modeOf(fibre);
  const usual: readonly number[] = mode ? USUAL[mode] : [];
  const own = asked.application === null ? [] : wavelengthsOf(limits, asked.application);
  const shown = own.length > 0 ? own : usual;
  const length_m =
    first.length_m === null || first.lateral_m === null ? null : toMillimetre(first.length_m + first.lateral_m);
  const at = (wavelength_nm: number) => {
    const [typical, limit] = [reckoned(wavelength_nm, "typical"), reckoned(wavelength_nm, "limit")];
    return { wavelength_nm, typical: sumOf(typical.terms), limit: sumOf(limit.terms), terms: limit.terms };
  };
  const all = shown.map(at);
  const channel = { length_m, length_complete: first.length_complete && first.lateral_m !== null };
  const lowest = first.classless ? null : lowestOf(classes);
  return {
    towards,
    far: far.end.words,
    far_record: far.end.record,
    reach: half.far.reach,
    strand: `${asked.cable.tag}:${strand.number}`,
    reckoned: 1,
    length_m,
    wavelengths: all.map(({ wavelength_nm, typical, limit }) => ({
      wavelength_nm,
      loss_db: typical.loss_db,
      worst_loss_db: limit.loss_db,
      complete: typical.complete && limit.complete,
      unknown: [...new Set([...typical.unknown, ...limit.unknown])],
    })),
    terms: all[0]?.terms ?? [],
    assumptions: [
      ...new Set([
        ...first.assumptions,
        landedWords(lateral),
        ...(lateral.fibre === null && fibre !== null
          ? [say`The lateral's fibre is taken as that of the cable, ${classWords(fibre)}.`]
          : []),
        ...(strand.through ? [say`Readings of the whole strand are not used for its half.`] : []),
      ]),
    ],
    applications:
      lowest === null
        ? []
        : (asked.application === null ? applicationsIn(limits) : [asked.application]).flatMap((application) =>
            verdictOf(application, asked, lowest, classes, channel, usual, at).map((one) => asFarAs(half, one)),
          ),
  };
}

/** Nothing runs on glass that was cut on its way; where it ends open with its cable, that is told when it is joined on. */
function asFarAs({ far }: HalfHere, one: CircuitLoss["applications"][number]): CircuitLoss["applications"][number] {
  if (far.reach === "port" || one.runs === "no") return one;
  const runs = far.reach === "cut" ? "no" : "cannot_tell";
  return { ...one, runs, runs_at_worst: runs, reasons: [say`its glass ${farWords(far, false)}`, ...one.reasons] };
}

/** What is joined beyond the opening on the wanted side, turned so that it ends at the opening. */
function farLine(
  hops: readonly Hop[],
  { from, to }: { readonly from: TraceEnd; readonly to: TraceEnd },
  towards: Half,
  strand: StrandHere,
  { section }: HalfHere,
  { cables, stop, cable, edge_m }: LossAsked,
): FarLine {
  const at = hops.findIndex(({ kind, record }) => kind === "strand" && record.id === section.id);
  const own = hops[at];
  if (!own) return { hops: [], end: to };
  const spaceOf = (id: number | null): number => cables.stops.get(id ?? 0)?.space_id ?? 0;
  // A strand whose ends lie in one place is taken as told from A.
  const [a, b] = [spaceOf(section.a_stop_id), spaceOf(section.b_stop_id)];
  const fromB = a !== b && own.place?.space?.id === b && own.to_place?.space?.id === a;
  const keepsHead = (towards === "a") !== fromB;
  const length = cables.lengthOf(
    cable.id,
    towards === "a" ? section.a_stop_id : stop.id,
    towards === "a" ? stop.id : section.b_stop_id,
  );
  const half: Hop = strand.through
    ? {
        ...own,
        passes: [],
        end_coils_m: [null, null],
        ...toEdge(length, edge_m[towards]),
        lacks: length.lacks.length > 0 ? length.lacks.join("; ") : null,
      }
    : own;
  return keepsHead
    ? { hops: [...hops.slice(0, at), half], end: from }
    : { hops: [...hops.slice(at + 1).toReversed(), half], end: to };
}

function toEdge({ length_m, glass_m }: Pick<Hop, "length_m" | "glass_m">, by_m: number) {
  if (length_m === null || length_m <= 0) return { length_m, glass_m };
  const edge_m = length_m + by_m;
  return { length_m: toMillimetre(edge_m), glass_m: glass_m && toMillimetre((glass_m * edge_m) / length_m) };
}

/** Readings that still hold once the strand is cut: those of stretches that lie wholly beyond. */
function readingsLeft(light: LightFacts, hops: readonly Hop[], { section }: HalfHere): LightFacts {
  const ports = new Set(hops.flatMap(({ kind, record }) => (kind === "port" ? [record.id] : [])));
  return {
    ...light,
    readings: light.readings.filter(({ subject_kind, subject_id, far_port_id }) => {
      if (subject_kind === "section") return subject_id !== section.id;
      if (subject_kind === "strand") return subject_id !== section.strand_id;
      return subject_kind === "port" && far_port_id !== null && ports.has(far_port_id);
    }),
  };
}

/** What the far end is taken as: as it will be landed, or on pigtails where nobody says. */
function landedWords({ landing }: Lateral): string {
  return landing
    ? say`The lateral is landed on ${landing.tag} with ${landing.method_words}; one plug is counted there.`
    : say`The lateral is taken to end on a pigtail with one plug.`;
}

/** The splice at the opening, the lateral's glass, and what it ends on. */
function toMake(
  values: Values,
  last: FibreClass | null,
  hop: number,
  place: RecordRef,
  lateral: Lateral,
): { terms: LossTerm[]; length_m: number | null } {
  const fibre = lateral.fibre ?? last;
  const mode = fibre && modeOf(fibre);
  const end = lateral.landing?.panel ?? lateral.to ?? place;
  const landed = lateral.landing?.tag ?? say`the lateral's far end`;
  const term = (kind: TermKind, words: string, value: ReturnType<Values["splice"]>, record = place): LossTerm => ({
    kind,
    words,
    loss_db: typeof value === "string" ? null : toDecibel(value.value),
    least_db: 0,
    basis: typeof value === "string" ? "unknown" : value.basis,
    source: typeof value === "string" ? say`not on record` : value.source,
    record,
    rests_on: typeof value === "string" ? [] : value.rests_on,
    hop,
    at_m: null,
    lacks: typeof value === "string" ? value : null,
    replaces: [],
  });
  const excess = lateral.excess_ratio ?? values.excess();
  const ratio = typeof excess === "number" ? excess : typeof excess === "string" ? null : excess.value;
  const length_m = lateral.length_m === null || ratio === null ? null : lateral.length_m * (1 + ratio);
  const per_km =
    fibre === null ? say`the class of its fibre is not known` : values.attenuation(fibre, lateral.environment);
  const glass =
    length_m === null
      ? say`its length is not known`
      : typeof per_km === "string"
        ? per_km
        : { ...per_km, value: (length_m / 1000) * per_km.value, source: `${per_km.value} dB/km: ${per_km.source}` };
  const field = last && fibre ? values.modeField(last, fibre) : null;
  return {
    length_m,
    terms: [
      term("splice", say`splice to be made in ${place.tag}`, values.splice(mode, "fusion")),
      ...(last && fibre && coreOf(last) !== coreOf(fibre)
        ? [
            term(
              "core_mismatch",
              say`glass of unlike cores meets in ${place.tag}`,
              say`what that loses depends on the way`,
            ),
          ]
        : []),
      ...(field
        ? [
            term(
              "mode_field",
              say`unlike mode fields of ${classWords(last as FibreClass)} and ${classWords(fibre as FibreClass)}`,
              field,
            ),
          ]
        : []),
      term("glass", say`lateral ${lateral.tag}`, glass),
      ...(lateral.landing?.method === "direct"
        ? []
        : [term("pigtail_splice", say`pigtail to be spliced on at ${landed}`, values.splice(mode, "fusion"), end)]),
      term("pair", say`plug at ${landed}`, values.pair(mode, null), end),
    ],
  };
}
