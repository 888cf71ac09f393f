/** What lies within the band: ports, splices and closures first, for most faults are at them, then coils, then plain cable. */
import type { RecordRef } from "../trace/answer.ts";
import type { LineFacts } from "../trace/line-facts.ts";
import { say } from "../words/say.ts";
import type { Band, Candidate } from "./answer.ts";
import type { Layout, Part } from "./layout.ts";

const KIND_ORDER: Readonly<Record<Candidate["kind"], number>> = {
  port: 0,
  splice: 0,
  closure: 0,
  module: 0,
  cord: 0,
  coil: 1,
  cable: 2,
};

/** To the millimetre, and 0 without a sign. */
const round = (metres: number): number => Math.round(metres * 1000) / 1000 + 0;

/** Stops of the pieces that a band touches, for their closures. */
export const stopsWithin = (layout: Layout, x: number, band: Band): number[] =>
  layout.parts.flatMap((part) => {
    const off = offOf(part, x);
    return part.piece && off !== null && isWithin(off, band) ? [part.piece.stop.id] : [];
  });

const isWithin = (off_m: number, { nearer_m, farther_m }: Band): boolean => -nearer_m <= off_m && off_m <= farther_m;

/** Metres from a spot to the nearest of a part; 0 inside it, null for one without length. */
function offOf(part: Part, x: number): number | null {
  if (!part.length_m) return null;
  const [first, last] = [part.x, part.x + part.length_m];
  return x < first ? first - x : x > last ? last - x : 0;
}

/** @param closures those that cables enter, by stop */
export function candidatesAt(
  x: number,
  band: Band,
  layout: Layout,
  facts: LineFacts,
  closures: ReadonlyMap<number, RecordRef>,
): Candidate[] {
  const found: Candidate[] = [];
  const add = (one: Omit<Candidate, "likely">): void => {
    if (!isWithin(one.off_m, band)) return;
    found.push({ ...one, off_m: round(one.off_m), likely: Math.abs(one.off_m) <= band.likely_m });
  };
  for (const { kind, record, place, words, x: at } of layout.points) {
    add({ kind, record, place, words, off_m: at - x });
  }
  const told = new Set(layout.points.flatMap(({ names }) => names));
  for (const part of layout.parts) {
    const { piece, cable } = part;
    const off = offOf(part, x);
    if (part.kind === "cord" && part.record && off !== null) {
      const place = part.hop.place?.space ?? null;
      add({ kind: "cord", record: part.record, place, words: part.words, off_m: off });
    }
    if (!piece || !cable || off === null) continue;
    const place = facts.cables.spaces.get(facts.cables.stops.get(piece.stop.id)?.space_id ?? 0)?.ref ?? null;
    if (piece.kind === "leg") {
      add({ kind: "cable", record: cable, place: null, words: part.words, off_m: off });
      continue;
    }
    const closure = closures.get(piece.stop.id);
    if (closure && !told.has(closure.tag)) {
      told.add(closure.tag);
      add({
        kind: "closure",
        record: closure,
        place,
        words: say`closure ${closure.tag}, which ${cable.tag} enters`,
        off_m: off,
      });
    }
    add({ kind: "coil", record: cable, place, words: part.words, off_m: off });
  }
  return found.sort((a, b) => KIND_ORDER[a.kind] - KIND_ORDER[b.kind] || Math.abs(a.off_m) - Math.abs(b.off_m));
}
