/** Where a line ends, and what that means: the glass, a plug, equipment, another party, or only the record. */
import { idOf, isFront, isPosition, NOWHERE, type Side, sectionEnd, sideOf } from "../glass/end.ts";
import type { Circuit } from "../glass/service.ts";
import { say } from "../words/say.ts";
import type { RecordRef, TraceEnd } from "./answer.ts";
import { addressUnder, type GlassSection, type PositionFacts } from "./facts.ts";
import type { Stopped } from "./line.ts";
import { type LineFacts, portTag, sectionTag } from "./line-facts.ts";
import { NO_PLACE, placeOf, placeWords } from "./places.ts";
import type { PlannedJoints } from "./planned.ts";

/** What is needed of the records at ends. */
export type EndFacts = Pick<LineFacts, "glass" | "positions" | "interfaces" | "cords" | "cables" | "service"> & {
  readonly sections: ReadonlyMap<number, GlassSection>;
  readonly planned?: PlannedJoints;
};

export function endOf(facts: EndFacts, stopped: Stopped): TraceEnd {
  const { why, end } = stopped;
  switch (why) {
    case "ring":
      return { ...described(facts, end), kind: "ring", words: say`the line comes back to itself` };
    case "again":
      return { ...described(facts, end), kind: "ring", words: say`meets glass of a branch shown before` };
    case "unshown":
      return { ...described(facts, end), kind: "record_ends", words: say`more branches than one answer can show` };
    case "end":
      if (end === NOWHERE) return looseCord(facts, stopped);
      return isPosition(end) ? atPort(facts, end) : openGlass(facts, end);
  }
}

function described(facts: EndFacts, end: number): Pick<TraceEnd, "record" | "place"> {
  const id = idOf(end);
  if (isPosition(end)) {
    const position = facts.positions.get(id);
    if (!position) return { record: null, place: NO_PLACE };
    const record = portRecord(facts, position);
    return { record, place: placeOf(facts.cables.spaces.get(position.space_id ?? 0)) };
  }
  const section = facts.sections.get(id);
  if (!section) return { record: null, place: NO_PLACE };
  const stop = stopAt(facts, section, end);
  return {
    record: { kind: "section", id, tag: sectionTag(facts, section) },
    place: placeOf(facts.cables.spaces.get(stop?.space_id ?? 0)),
  };
}

/** A port; of a port with several positions, the one position. */
function portRecord(facts: EndFacts, position: PositionFacts): RecordRef {
  const tag = portTag(facts, position);
  return position.of > 1
    ? { kind: "position", id: position.id, tag: addressUnder("position", tag, position.ordinal) }
    : { kind: "port", id: position.port_id, tag };
}

const stopAt = ({ cables }: EndFacts, section: GlassSection, end: number) =>
  cables.stops.get((sideOf(end) === "A" ? section.a_stop_id : section.b_stop_id) ?? 0);

function looseCord(facts: EndFacts, { id }: Stopped): TraceEnd {
  const cord = facts.cords.get(id);
  const tag = cord?.tag ?? null;
  const hanging = cord?.a_port_id === null || cord?.b_port_id === null;
  return {
    kind: "open_end",
    record: { kind: "cord", id, tag: tag === null ? "cord" : say`cord ${tag}` },
    place: null,
    words: hanging
      ? say`the cord's other end hangs loose`
      : say`this fibre of the cord has no position to sit in at its other plug`,
  };
}

function openGlass(facts: EndFacts, end: number): TraceEnd {
  const where = described(facts, end);
  const section = facts.sections.get(idOf(end));
  const stop = section && stopAt(facts, section, end);
  // A break between two places is in none; the record has it all the same.
  if (section && stop?.kind === "severed" && !where.place?.space) return severed(facts, section, end, where);
  if (!section || !stop || !where.place?.space) {
    return { ...where, kind: "record_ends", words: say`the record doesn't say where this glass ends` };
  }
  const circuit = facts.service.circuitsOf(section.id).find((one) => one.a_party !== null || one.z_party !== null);
  const handed = circuit && handedOverGlass(facts, circuit, section, end);
  if (handed) return { ...where, kind: "handed_over", words: handed };
  const stub = sideOf(end) === "A" ? section.a_stub : section.b_stub;
  const left = stub === "no" ? say`, too short to splice` : stub === "yes" ? say`, long enough to splice` : "";
  const isCut = stop.kind === "opened" || stop.kind === "severed";
  const planned = facts.planned?.get(end);
  if (planned !== undefined) {
    const words = `${isCut ? "cut" : "ends"} ${placeWords(where.place)}: ${planned}${left}`;
    return { ...where, kind: "open_end", words, ...(isCut ? { cut: true } : {}) };
  }
  const cut = isCut ? say`cut and joined to nothing` : say`open end of glass`;
  return {
    ...where,
    kind: "open_end",
    words: `${cut} ${placeWords(where.place)}${left}`,
    ...(isCut ? { cut: true } : {}),
  };
}

/** "cut between MH-03 and MH-04, mark 8278": the nearest places on record on both sides, and the mark where this part ends. */
function severed(
  { cables, planned }: EndFacts,
  section: GlassSection,
  end: number,
  where: Pick<TraceEnd, "record" | "place">,
): TraceEnd {
  const stops = cables.byId.get(section.cable_id)?.stops ?? [];
  const id = sideOf(end) === "A" ? section.a_stop_id : section.b_stop_id;
  const at = stops.findIndex((stop) => stop.id === id);
  const named = ({ space_id }: { readonly space_id: number | null }): string | null =>
    placeOf(cables.spaces.get(space_id ?? 0)).space?.tag ?? null;
  const before = stops.slice(0, at).reduceRight<string | null>((found, stop) => found ?? named(stop), null);
  const after = stops.slice(at + 1).reduce<string | null>((found, stop) => found ?? named(stop), null);
  const cut =
    before !== null && after !== null
      ? say`cut between ${before} and ${after}`
      : before !== null
        ? say`cut beyond ${before}`
        : after !== null
          ? say`cut before ${after}`
          : say`cut at a place not on record`;
  const { mark_open_from = null, mark_open_to = null } = stops[at] ?? {};
  const mark = sideOf(end) === "A" ? mark_open_to : mark_open_from;
  const in_brief = mark === null ? cut : say`${cut}, mark ${mark}`;
  const joint = planned?.get(end);
  const words = joint === undefined ? say`${in_brief}, and joined to nothing` : `${in_brief}: ${joint}`;
  return { ...where, kind: "open_end", words, in_brief, cut: true };
}

function atPort(facts: EndFacts, end: number): TraceEnd {
  const where = described(facts, end);
  const position = facts.positions.get(idOf(end));
  if (!position) return { ...where, kind: "record_ends", words: say`the port is not on record` };
  if (position.device_id !== null) {
    const runs = facts.interfaces.get(position.port_id)?.application ?? null;
    const words = runs === null ? say`equipment` : say`equipment, ${runs}`;
    return { ...where, kind: "interface", words };
  }
  if (!isFront(end)) return { ...where, kind: "record_ends", words: say`nothing is on record behind this port` };
  const handed = position.front === "empty" ? null : handedOverPort(facts, position);
  if (handed) return { ...where, kind: "handed_over", words: handed };
  if (position.front === "empty")
    return { ...where, kind: "empty_port", words: say`open port, nothing plugged in front` };
  if (position.front === "cord") {
    return { ...where, kind: "record_ends", words: say`a cord was seen in front, but none is on record` };
  }
  const words = say`nobody has looked in front of this port`;
  return { ...where, kind: "record_ends", words, in_brief: say`front not looked at` };
}

const toParty = (party: string, reference: string | null): string =>
  say`handed over to ${party}${reference === null ? "" : say`, their ${reference}`}`;

/** A circuit whose A or Z end is at this port and belongs to another party. */
function handedOverPort({ service }: EndFacts, { port_id }: PositionFacts): string | null {
  const [over] = service.handedOverAt(port_id);
  if (!over) return null;
  const { a_party, a_reference, z_party, z_reference, z_port_id } = over;
  return z_party !== null && z_port_id === port_id
    ? toParty(z_party, z_reference)
    : toParty(a_party ?? "", a_reference);
}

/**
 * Glass that leaves to another party without a port of ours: the open end is theirs when the circuit has no port there
 * and this is the section nearest that end; of a circuit's only section, the end that its other port isn't on.
 */
function handedOverGlass(facts: EndFacts, circuit: Circuit, section: GlassSection, end: number): string | null {
  const own = [...facts.sections.keys()].flatMap((id) =>
    facts.service.holding(id).filter(({ circuit_id }) => circuit_id === circuit.id),
  );
  const orders = own.flatMap(({ ordinal }) => ordinal ?? []);
  const mine = own.find(({ section_id }) => section_id === section.id)?.ordinal ?? null;
  const first = mine === null || mine === Math.min(...orders);
  const last = mine === null || mine === Math.max(...orders);
  // A circuit's only section is taken to run from A to Z, unless its glass goes on from the end that were the party's.
  const alone = first && last;
  const isFarEnd = (side: Side): boolean =>
    !alone || sideOf(end) === side || facts.glass.first(sectionEnd(section.id, side)) >= 0;
  if (circuit.z_party !== null && circuit.z_port_id === null && last && isFarEnd("B")) {
    return toParty(circuit.z_party, circuit.z_reference);
  }
  if (circuit.a_party !== null && circuit.a_port_id === null && first && isFarEnd("A")) {
    return toParty(circuit.a_party, circuit.a_reference);
  }
  return null;
}

/** How an end is named in a sentence: "OBS/1A/P1:05 in Observatory". */
export function endWords(end: TraceEnd): string {
  if (!end.record) return say`a place nobody knows`;
  return end.place?.building ? `${end.record.tag} ${placeWords(end.place)}` : end.record.tag;
}

/** What an end is, as it stands after its name. */
export function endKind(end: TraceEnd): string {
  switch (end.kind) {
    case "open_end":
      if (end.cut && end.in_brief) return end.in_brief;
      return end.record?.kind === "cord" ? say`a cord that hangs loose` : say`an open end`;
    case "empty_port":
      return say`an open port`;
    case "interface":
      return "equipment";
    case "handed_over":
      return end.words;
    case "record_ends":
      return say`where the record ends: ${end.words}`;
    case "ring":
      return say`where the line closes on itself`;
  }
}
