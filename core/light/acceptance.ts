/**
 * What a link may lose when it is accepted: attenuation × length, and the greatest loss of each joint that the reference
 * leaves in the reading (formula as given in MIL-STD-2042-6B, methods 6C1 and 6E1). Readings are held against it.
 */
import { EDITIONS, type Edition } from "../standards/limits/acceptance.ts";
import { toMillimetre } from "../trace/totals.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Acceptance, AcceptancePart, Compared } from "./answer.ts";
import { REFERENCE_WORDS } from "./asked-words.ts";
import { coreOf } from "./classes.ts";
import type { Reading } from "./facts.ts";
import type { AskedWay, LightLine } from "./line.ts";
import { isAt, readingWords, type Stretch, stretchOf, whyNot } from "./measured.ts";
import { twoWayMean } from "./mode-field.ts";
import { type LossTerm, toDecibel } from "./terms.ts";
import type { ReferenceMethod } from "./values.ts";

export interface Rule {
  readonly wavelength_nm: number;
  readonly edition: Edition;
  readonly reference_method: ReferenceMethod;
}

const JOINTS: Readonly<Partial<Record<LossTerm["kind"], (count: number) => string>>> = {
  end_pair: (count) => counted(count, "end joint"),
  pair: (count) => counted(count, "pair"),
  splice: (count) => counted(count, "splice"),
  pigtail_splice: (count) => counted(count, "pigtail splice"),
  connector_splice: (count) => counted(count, "splice in a connector", "splices in connectors"),
  furcation: (count) => counted(count, "furcation kit"),
  module: (count) => counted(count, "module"),
};
const ORDER = ["glass", ...Object.keys(JOINTS)];

const kindOf = ({ kind, glass }: LossTerm): string => (glass ? "glass" : kind);

/** Terms of one kind and value are one part. */
function partsOf(terms: readonly LossTerm[]): AcceptancePart[] {
  const alike = Map.groupBy(terms, (term) => {
    const { glass, loss_db, source, lacks } = term;
    return JSON.stringify([kindOf(term), glass ? glass.db_per_km : loss_db, glass ? lacks : source]);
  });
  return [...alike.values()]
    .toSorted(([a], [b]) => ORDER.indexOf(kindOf(a as LossTerm)) - ORDER.indexOf(kindOf(b as LossTerm)))
    .map((own) => ({
      words: partWords(own),
      loss_db: own.some(({ loss_db }) => loss_db === null)
        ? null
        : toDecibel(own.reduce((sum, { loss_db }) => sum + (loss_db ?? 0), 0)),
      source: [...new Set(own.map(({ source, lacks }) => lacks ?? source))].join("; "),
    }));
}

function partWords(own: readonly LossTerm[]): string {
  const [first] = own as readonly [LossTerm, ...LossTerm[]];
  if (first.glass) {
    const lengths = own.map(({ glass }) => glass?.length_m ?? null);
    const metres = toMillimetre(lengths.reduce<number>((sum, length) => sum + (length ?? 0), 0));
    const glass = lengths.includes(null) ? say`glass of unknown length` : say`${metres} m of glass`;
    return say`${glass} at ${first.glass.db_per_km === null ? say`an unknown loss` : `${first.glass.db_per_km} dB/km`}`;
  }
  const value = first.loss_db === null ? say`an unknown loss` : `${first.loss_db} dB`;
  return say`${JOINTS[first.kind]?.(own.length) ?? String(own.length)} at ${value}`;
}

function formulaOf(parts: readonly AcceptancePart[], { edition, reference_method }: Rule, unlike: boolean): string {
  const cords = REFERENCE_WORDS[reference_method];
  const sum = parts.map(({ words }) => words).join(" + ") || say`nothing to count`;
  const more = unlike ? say`; what light loses from one core into another is not in it` : "";
  return say`${EDITIONS[edition]}, reference by ${cords}: ${sum}${more}`;
}

export function acceptanceOf(line: LightLine, rule: Rule): Acceptance {
  const by = (reference_method: ReferenceMethod): AskedWay => ({
    ...rule,
    reference_method,
    worst: "limit",
    direction: "a_to_b",
    as: "link",
    by_formula: true,
  });
  const limit = line.loss(by(rule.reference_method));
  const { span } = limit;
  const parts = partsOf(limit.terms);
  const read: (Compared & { readonly along: boolean | null; readonly day: string })[] = [];
  for (const reading of line.facts.readings) {
    if (reading.loss_db === null || reading.method === "visual" || !isAt(reading, rule.wavelength_nm)) continue;
    const stretch = stretchOf(reading, line.hops, line.facts);
    if (!stretch || stretch.first !== span.first || stretch.last !== span.last) continue;
    const own = line.loss(by(reading.method === "otdr" ? "one_cord" : (reading.reference_method ?? "one_cord"))).sum;
    if (own.loss_db === null) continue;
    read.push(compared(line, reading, stretch, own.loss_db, own.complete));
  }
  return {
    wavelength_nm: rule.wavelength_nm,
    limit_db: limit.sum.complete ? limit.sum.loss_db : null,
    complete: limit.sum.complete,
    formula: formulaOf(parts, rule, new Set(limit.classes.map(coreOf)).size > 1),
    parts,
    terms: limit.terms,
    unknown: limit.sum.unknown,
    measurements: read.map(({ along: _, day: __, ...one }) => one),
    mean_db: meanOf(read),
  };
}

function compared(line: LightLine, reading: Reading, stretch: Stretch, limit_db: number, complete: boolean) {
  const loss_db = reading.loss_db as number;
  const margin_db = toDecibel(limit_db - loss_db);
  const doubt = whyNot(reading, line.hops, stretch, line.facts);
  return {
    measurement: { kind: "measurement" as const, id: reading.id, tag: reading.tag },
    words: readingWords(reading),
    loss_db,
    limit_db,
    // The limit of what is known is less than the whole: a reading below it passes in any case.
    passes: margin_db >= 0 && loss_db >= 0,
    margin_db,
    doubt: doubt ?? (complete ? null : say`the limit lacks parts that are not on record; the true one is higher`),
    along: stretch.along,
    day: reading.measured_on ?? "",
  };
}

function meanOf(read: readonly { along: boolean | null; day: string; loss_db: number }[]): number | null {
  const newest = (along: boolean) =>
    read.filter((one) => one.along === along).toSorted((a, b) => (a.day < b.day ? 1 : -1))[0];
  const [there, back] = [newest(true), newest(false)];
  return there && back ? toDecibel(twoWayMean(there.loss_db, back.loss_db)) : null;
}
