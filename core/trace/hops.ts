/** Hops of a line: each with the records it rests on, where it is, its colours, its length and how far it can be trusted. */
import { idOf, isPosition, sideOf } from "../glass/end.ts";
import { ASSUMED, CORD, JOIN, SPLICE, TERMINATION } from "../glass/glass.ts";
import type { Circuit } from "../glass/service.ts";
import { KINDS, type KindName } from "../model/dictionary.ts";
import { FIBRE_CLASSES } from "../model/lists.ts";
import { colourFromText, colourSaid } from "../standards/colours.ts";
import { withArticle } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { ColourLayer, Hop, Passed, Place, RecordRef } from "./answer.ts";
import { coilBefore, coilOf } from "./coil.ts";
import { basesOf } from "./evidence.ts";
import { addressUnder, type Known, type PositionFacts, type SectionFacts } from "./facts.ts";
import type { Item, Joined, Through } from "./line.ts";
import { type LineFacts, portTag, positionWords, sectionTag, spaceOfStop } from "./line-facts.ts";
import { NO_PLACE, placeOf } from "./places.ts";
import { stateOf } from "./state.ts";

/** What a strand lacks whose sheath is known and whose glass isn't. */
export const EXCESS_LACKING = say`the excess of its glass is not on record`;

const ref = (kind: KindName, id: number, tag: string): RecordRef => ({ kind, id, tag });

const BARE = {
  also: [],
  to_place: null,
  passes: [],
  end_coils_m: [null, null],
  colours: [],
  length_m: null,
  length_from: null,
  glass_m: null,
  lacks: null,
  state: null,
  circuits: [],
  basis: [],
  last_visit: null,
  label: null,
} as const satisfies Partial<Hop>;

export const circuitRef = ({ id, tag }: Circuit): RecordRef => ref("circuit", id, addressUnder("circuit", null, tag));

/** The jacket of a cord, where its colour is on record. */
function jacketOf(colour: string | null): ColourLayer[] {
  if (colour === null) return [];
  const { name, code, mark } = colourFromText(colour);
  return [{ what: "jacket", position: 1, name, code, mark, words: say`jacket ${colourSaid(colour)}` }];
}

export class Hops {
  readonly #facts: LineFacts;
  /** A hop that several branches or lines share is made once. */
  readonly #made = new Map<string, Hop>();

  constructor(facts: LineFacts) {
    this.#facts = facts;
  }

  /**
   * The hops of some items in order, and the place among them of the item that was asked for. A termination is no hop of
   * its own: it is told with the port it ends on.
   */
  of(items: readonly Item[], asked = -1): { hops: Hop[]; at: number } {
    const hops: Hop[] = [];
    let at = 0;
    for (const index of items.keys()) {
      const hop = this.#hopOf(items, index);
      if (index === asked) at = hop ? hops.length : Math.max(0, hops.length - 1);
      if (hop) hops.push(hop);
    }
    return { hops, at };
  }

  #hopOf(items: readonly Item[], index: number): Hop | null {
    const item = items[index] as Item;
    if (item.what === "joint") {
      const key = `${item.kind} ${item.id} ${item.from} ${item.to}`;
      return item.kind === TERMINATION ? null : this.#once(key, () => this.#joint(item));
    }
    if (!isPosition(item.in)) return this.#once(`${item.in}`, () => this.#strand(item));
    const landings = [items[index - 1], items[index + 1]].filter(
      (next): next is Joined => next?.what === "joint" && next.kind === TERMINATION,
    );
    const key = [item.in, ...landings.map(({ id }) => id)].join(" ");
    return this.#once(key, () => this.#port(item, landings));
  }

  #once(key: string, make: () => Hop): Hop {
    let hop = this.#made.get(key);
    if (!hop) {
      hop = make();
      this.#made.set(key, hop);
    }
    return hop;
  }

  placeOf(space_id: number | null): Place {
    return placeOf(this.#facts.cables.spaces.get(space_id ?? 0));
  }

  #evidence(
    subjects: readonly { kind: KindName; id: number | null }[],
    spaces: readonly (number | null)[],
    cables: readonly number[],
    records: readonly (Known | undefined)[],
  ): Pick<Hop, "label" | "last_visit" | "basis"> {
    const { evidence } = this.#facts;
    return {
      label: evidence.labelOf(subjects, spaces),
      last_visit: evidence.lastVisit(spaces, cables, records),
      basis: basesOf(records),
    };
  }

  #strand(item: Through): Hop {
    const { sections, cables, service, glass } = this.#facts;
    const section = sections.get(idOf(item.in));
    if (!section) return this.#missing("section", idOf(item.in), "strand");
    const cable = cables.byId.get(section.cable_id);
    const { a_stop_id, b_stop_id } = section;
    const forward = sideOf(item.in) === "A";
    const [first, last] = forward ? [a_stop_id, b_stop_id] : [b_stop_id, a_stop_id];
    const [from, to] = [spaceOfStop(this.#facts, first), spaceOfStop(this.#facts, last)];
    const length = cables.lengthOf(section.cable_id, a_stop_id, b_stop_id);
    const ways = cables.waysOf(section.cable_id, a_stop_id, b_stop_id);
    if (!forward) ways.reverse();
    const stops = [first, last].map((id) => cables.stops.get(id ?? 0));
    const { state, why } = stateOf(section, cable, service, glass, (id) => cables.stops.get(id), this.#facts.planned);
    const lacks = [...length.lacks];
    if (length.length_m !== null && length.glass_m === null) lacks.push(EXCESS_LACKING);
    return {
      ...BARE,
      kind: "strand",
      record: ref("section", section.id, sectionTag(this.#facts, section)),
      also: [...(cable ? [cable.ref] : []), ...ways.flatMap(wayRef)],
      place: this.placeOf(from),
      to_place: this.placeOf(to),
      ...this.#course(section.cable_id, first, last),
      colours: cables.coloursOf(section),
      how: why ?? this.#construction(section),
      length_m: length.length_m,
      length_from: length.from,
      glass_m: length.glass_m,
      lacks: lacks.length > 0 ? lacks.join("; ") : null,
      state,
      circuits: service.circuitsOf(section.id).map(circuitRef),
      ...this.#evidence(
        [{ kind: "cable", id: section.cable_id }],
        [from, to],
        [section.cable_id],
        [section, { basis: section.strand_basis, basis_visit_id: section.strand_visit_id }, cable, ...stops, ...ways],
      ),
    };
  }

  /** The stops between two of a cable, from the first to the last, and what is coiled at each and at those two. */
  #course(cable_id: number, first: number | null, last: number | null): Pick<Hop, "passes" | "end_coils_m"> {
    const { cables } = this.#facts;
    const sheath = cables.byId.get(cable_id)?.sheath;
    const along = sheath?.stopsBetween(first, last) ?? [];
    const [one, other] = [along[0], along.at(-1)];
    if (!sheath || !one || !other) return { passes: [], end_coils_m: [null, null] };
    const ends = [one === other ? null : coilBefore(sheath, one, "out"), coilBefore(sheath, other, "in")] as const;
    const passes = along.slice(1, -1).map((stop): Passed => {
      const { length_m, lacks } = cables.lengthOf(cable_id, first, stop.id);
      return {
        place: this.placeOf(cables.stops.get(stop.id)?.space_id ?? null),
        at_m: lacks.length > 0 ? null : length_m,
        coil_m: coilOf(sheath, stop, false),
      };
    });
    return one.id === first
      ? { passes, end_coils_m: ends }
      : { passes: passes.toReversed(), end_coils_m: [ends[1], ends[0]] };
  }

  #construction(section: SectionFacts): string {
    const { cables } = this.#facts;
    const built = cables.byId.get(section.cable_id)?.construction;
    const fibre = cables.fibreClassOf(section);
    const words = [built && KINDS.cable_type.fields.construction.values[built], fibre && FIBRE_CLASSES[fibre]];
    return words.filter(Boolean).join(", ") || "strand";
  }

  #port(item: Through, landings: readonly Joined[]): Hop {
    const { positions, terminations } = this.#facts;
    const position = positions.get(idOf(item.in));
    if (!position) return this.#missing("position", idOf(item.in), "port");
    const tag = portTag(this.#facts, position);
    const landed = landings.flatMap(({ id }) => terminations.get(id) ?? []);
    const [method] = landed.flatMap((one) => (one.method ? [KINDS.termination.fields.method.values[one.method]] : []));
    const where = positionWords(position);
    const own =
      position.module_kind && say`port of ${withArticle(KINDS.module.fields.kind.values[position.module_kind])}`;
    const equipment = position.device_id !== null;
    const optic = this.#facts.interfaces.get(position.port_id);
    const what = equipment ? (optic?.application ?? "equipment") : (method ?? own ?? "port");
    return {
      ...BARE,
      kind: equipment ? "interface" : "port",
      record: ref("port", position.port_id, tag),
      also: [
        ref("position", position.id, addressUnder("position", tag, position.ordinal)),
        ...landed.map((one) => ref("termination", one.id, this.#landingWords(one.section_id, tag, position))),
        ...(optic ? [ref("interface", optic.id, `interface ${tag}`)] : []),
      ],
      place: this.placeOf(position.space_id),
      how: [what, where].filter(Boolean).join(", "),
      ...this.#evidence(
        [
          { kind: "port", id: position.port_id },
          { kind: "panel", id: position.panel_id },
          { kind: "module", id: position.module_id },
        ],
        [position.space_id],
        [],
        [position, ...landed],
      ),
    };
  }

  #landingWords(section_id: number, port: string, position: PositionFacts): string {
    const section = this.#facts.sections.get(section_id);
    const strand = section ? sectionTag(this.#facts, section) : "…";
    return say`termination ${strand} on ${addressUnder("position", port, position.ordinal)}`;
  }

  #joint(item: Joined): Hop {
    switch (item.kind) {
      case SPLICE:
        return this.#splice(item);
      case CORD:
        return this.#cord(item);
      case JOIN:
        return this.#join(item);
      case ASSUMED:
        return this.#assumed(item);
      default:
        throw new Error(`no hop is made of a joint of kind ${item.kind}`);
    }
  }

  #splice(item: Joined): Hop {
    const splice = this.#facts.splices.get(item.id);
    if (!splice) return this.#missing("splice", item.id, "splice");
    const at = splice.space_id ?? this.#spaceOfEnd(item.from) ?? this.#spaceOfEnd(item.to);
    const space = splice.space_id === null ? null : (this.#facts.cables.spaces.get(splice.space_id)?.ref.tag ?? "…");
    const closure = splice.closure === null ? null : addressUnder("closure", space, splice.closure);
    const tray = splice.tray === null ? null : addressUnder("tray", closure, splice.tray);
    const strands = [splice.a_section_id, splice.b_section_id].map((id) => {
      const section = this.#facts.sections.get(id);
      return section ? sectionTag(this.#facts, section) : "…";
    });
    const method = splice.method && KINDS.splice.fields.method.values[splice.method];
    const how = [
      [method, splice.form === "ribbon" ? say`ribbon splice` : "splice"].filter(Boolean).join(" "),
      splice.place !== null && say`place ${splice.place}`,
    ];
    return {
      ...BARE,
      kind: "splice",
      record: ref("splice", splice.id, `splice ${strands[0]} to ${strands[1]}${tray === null ? "" : say` in ${tray}`}`),
      also: [
        ...(splice.closure_id !== null && closure !== null ? [ref("closure", splice.closure_id, closure)] : []),
        ...(splice.tray_id !== null && tray !== null ? [ref("tray", splice.tray_id, tray)] : []),
      ],
      place: this.placeOf(at),
      how: how.filter(Boolean).join(", "),
      ...this.#evidence(
        [
          { kind: "closure", id: splice.closure_id },
          { kind: "tray", id: splice.tray_id },
        ],
        [at],
        [],
        [splice],
      ),
    };
  }

  #cord(item: Joined): Hop {
    const cord = this.#facts.cords.get(item.id);
    if (!cord) return this.#missing("cord", item.id, "cord");
    const at = this.#spaceOfEnd(item.from) ?? this.#spaceOfEnd(item.to);
    const ends = [item.from, item.to].map((end) => {
      const position = this.#facts.positions.get(idOf(end));
      return position ? { id: position.port_id, tag: portTag(this.#facts, position) } : null;
    });
    const nameOf = (port: number | null): string =>
      ends.find((end) => end?.id === port)?.tag ?? (port === null ? "nowhere" : "…");
    const tag = [cord.tag, cord.tag && "from", nameOf(cord.a_port_id), "to", nameOf(cord.b_port_id)];
    const mapped = cord.fibres > 1 && cord.map !== "straight" && KINDS.cord.fields.map.values[cord.map];
    return {
      ...BARE,
      kind: "cord",
      record: ref("cord", cord.id, ["cord", ...tag].filter(Boolean).join(" ")),
      place: this.placeOf(at),
      colours: jacketOf(cord.colour),
      how: [say`patch cord`, mapped].filter(Boolean).join(", "),
      length_m: cord.length_m,
      length_from: cord.length_m === null ? null : "record",
      glass_m: cord.length_m,
      lacks: cord.length_m === null ? say`the length of the cord is not on record` : null,
      ...this.#evidence([{ kind: "cord", id: cord.id }], [at], [], [cord]),
    };
  }

  #join(item: Joined): Hop {
    const join = this.#facts.joins.get(item.id);
    if (!join) return this.#missing("module_join", item.id, "join");
    const space = join.space_id === null ? null : (this.#facts.cables.spaces.get(join.space_id)?.ref.tag ?? "…");
    const under = join.panel === null ? space : addressUnder("panel", space, join.panel);
    const ends = [item.from, item.to].map((end) => {
      const position = this.#facts.positions.get(idOf(end));
      return position ? addressUnder("position", portTag(this.#facts, position), position.ordinal) : "…";
    });
    const what = KINDS.module.fields.kind.values[join.kind];
    return {
      ...BARE,
      kind: "join",
      record: ref("module_join", join.id, `join ${ends[0]} to ${ends[1]}`),
      also: [ref("module", join.module_id, addressUnder("module", under, join.module))],
      place: this.placeOf(join.space_id),
      how: [say`through ${withArticle(what)}`, join.band && `${join.band} nm`].filter(Boolean).join(", "),
      ...this.#evidence([{ kind: "module", id: join.module_id }], [join.space_id], [], [join]),
    };
  }

  #assumed(item: Joined): Hop {
    const circuit = this.#facts.service.circuits.get(item.id);
    const tag = circuit?.tag ?? "…";
    const state =
      circuit && circuit.state !== "in_service" ? `, ${KINDS.circuit.fields.state.values[circuit.state]}` : "";
    const at = this.#spaceOfEnd(item.from);
    return {
      ...BARE,
      kind: "assumed",
      record: ref("circuit", item.id, tag),
      place: this.placeOf(at),
      how: say`assumed: ${tag}${state} has both ports in this room, and no cord is on record`,
      lacks: say`the length of the cord is not on record`,
      circuits: circuit ? [circuitRef(circuit)] : [],
      ...this.#evidence([], [at], [], []),
    };
  }

  #spaceOfEnd(end: number): number | null {
    const { sections, positions } = this.#facts;
    if (isPosition(end)) return positions.get(idOf(end))?.space_id ?? null;
    const section = sections.get(idOf(end));
    return spaceOfStop(this.#facts, (sideOf(end) === "A" ? section?.a_stop_id : section?.b_stop_id) ?? null);
  }

  /** A record that foreign keys say is there; only a damaged file lacks it. */
  #missing(kind: KindName, id: number, hop: Hop["kind"]): Hop {
    return {
      ...BARE,
      kind: hop,
      record: ref(kind, id, `${KINDS[kind].one} ${id}`),
      place: NO_PLACE,
      how: say`not on record`,
    };
  }
}

function wayRef(leg: {
  readonly pathway_id: number | null;
  readonly pathway: string | null;
  readonly conduit_id: number | null;
  readonly conduit: string | null;
}): RecordRef[] {
  if (leg.pathway_id === null || leg.pathway === null) return [];
  const pathway = addressUnder("pathway", null, leg.pathway);
  return leg.conduit_id === null || leg.conduit === null
    ? [ref("pathway", leg.pathway_id, pathway)]
    : [ref("conduit", leg.conduit_id, addressUnder("conduit", pathway, leg.conduit))];
}
