/** Lines made part by part, from one end to the other: optics, cords, cables, splices, modules, with ports between them. */

import type { LineLoss, LossAnswer } from "../../core/light/answer.ts";
import type { Value } from "../../core/model/dictionary.ts";
import { Made, type MadePlant } from "../glass/made.ts";

export type Given = Readonly<Record<string, Value | undefined>>;

export type Part =
  | { readonly part: "optic"; readonly more?: Given }
  | { readonly part: "cord"; readonly length_m?: number | undefined; readonly more?: Given }
  | {
      readonly part: "cable";
      readonly length_m?: number | undefined;
      readonly fibre?: string | undefined;
      /** Of its type: excess, environment. */
      readonly type?: Given;
      /** How each end lands, where it does: from the side the line is told from. */
      readonly lands?: readonly [(Given | undefined)?, (Given | undefined)?];
      /** Turned: its B end comes first. */
      readonly turned?: boolean;
    }
  | { readonly part: "splice"; readonly more?: Given; readonly turned?: boolean }
  | { readonly part: "module"; readonly kind?: string; readonly loss_db?: number; readonly more?: Given };

export const optic = (more: Given = {}): Part => ({ part: "optic", more });
export const cord = (length_m?: number, more: Given = {}): Part => ({ part: "cord", length_m, more });
export const cable = (
  length_m: number | undefined,
  fibre?: string,
  more: Omit<Extract<Part, { part: "cable" }>, "part" | "length_m" | "fibre"> = {},
): Part => ({ part: "cable", length_m, fibre, ...more });
export const splice = (more: Given = {}, turned = false): Part => ({ part: "splice", more, turned });
export const module = (loss_db?: number, kind = "cassette", more: Given = {}): Part => ({
  part: "module",
  kind,
  more,
  ...(loss_db === undefined ? {} : { loss_db }),
});

/** Limits the plant sets: tag and value. */
export type Own = Readonly<Record<string, number>>;

export interface MadeLine {
  readonly made: Made;
  /** Strand of the first cable, as an address. */
  readonly what: string;
  /** Ids of what was made, by kind, in the order of the line. */
  readonly ids: Readonly<
    Record<"section" | "splice" | "port" | "cord" | "termination" | "strand" | "module_join", number[]>
  >;
}

export function makeLine(parts: readonly Part[], own: Own = {}): MadeLine {
  const made = new Made();
  const building = made.building("B");
  const spaces = parts.map((_, at) => made.room(`R${at}`, building));
  spaces.push(made.room("END", building));
  const ids: MadeLine["ids"] = {
    section: [],
    splice: [],
    port: [],
    cord: [],
    termination: [],
    strand: [],
    module_join: [],
  };
  for (const [tag, value] of Object.entries(own)) made.add("limit_value", { tag, value });
  const types = new Map<string, number>();
  /** What the next part joins: the end of a section, the port a cord is to go from, or a module's inner position. */
  let open: {
    section?: number;
    side?: "A" | "B";
    lands?: Given;
    port?: number;
    cordFrom?: number;
    inner?: [number, number, Given];
  } = {};
  let pending: Extract<Part, { part: "splice" }> | null = null;
  let pendingCord: Extract<Part, { part: "cord" }> | null = null;
  let first = "";
  let equipment = "";

  const panel = (at: number, more: Given = {}) => {
    const { ports, positions } = made.panel(`P${at}`, spaces[at] as number, 1, 1, more);
    ids.port.push(ports[0] as number);
    return { port: ports[0] as number, position: positions[0] as number };
  };
  const land = (section: number | undefined, side: "A" | "B" | undefined, position: number, more: Given = {}) =>
    ids.termination.push(made.land(section, side ?? "A", position, more));
  const endCord = (port: number | null) => {
    if (!pendingCord) return;
    const { length_m, more } = pendingCord;
    ids.cord.push(made.cord(open.cordFrom ?? null, port, { length_m, ...more }));
    pendingCord = null;
  };

  for (const [at, part] of parts.entries()) {
    if (part.part === "optic") {
      const device = made.device(`SW${at}`, spaces[at] as number, 1, 1);
      made.add("interface", { port_id: device.ports[0], ...part.more });
      endCord(device.ports[0] as number);
      equipment ||= `B/R${at}/SW${at}:01`;
      open = { cordFrom: device.ports[0] as number };
    } else if (part.part === "cord") {
      if (open.section !== undefined) {
        const { port, position } = panel(at);
        land(open.section, open.side, position, open.lands);
        open = { cordFrom: port };
      }
      pendingCord = part;
    } else if (part.part === "splice") pending = part;
    else if (part.part === "module") {
      const own = made.module(`M${at}`, spaces[at] as number, part.kind ?? "cassette", 2, 1);
      ids.port.push(...own.ports);
      const [a, b] = own.positions as [number, number];
      if (open.section !== undefined) {
        land(open.section, open.side, a, open.lands);
      } else endCord(own.ports[0] as number);
      const a_side = open.section !== undefined ? "front" : "back";
      const next = parts[at + 1]?.part;
      const b_side = next === "cable" ? "front" : "back";
      ids.module_join.push(made.join(own.id, a, b, { a_side, b_side, loss_db: part.loss_db, ...part.more }));
      open = next === "cable" ? { inner: [b, own.ports[1] as number, {}] } : { cordFrom: own.ports[1] as number };
    } else {
      const key = JSON.stringify([part.fibre, part.type]);
      let type = types.get(key);
      if (type === undefined) {
        type = made.add("cable_type", {
          tag: `T${types.size}`,
          colour_sequence: "tia_598",
          fibre_class: part.fibre,
          excess_ratio: 0,
          ...part.type,
        });
        types.set(key, type);
      }
      const [from, to] = [spaces[at] as number, spaces[at + 1] as number];
      const [a, b] = part.turned ? [to, from] : [from, to];
      const way = made.pathway(`W${at}`, a, b, part.length_m ?? null);
      const { sections, strands } = made.cable(`F-${at}`, [a, b], 1, {
        values: { type_id: type },
        ways: part.length_m === undefined ? [null] : [way],
      });
      const [section, strand] = [sections[0] as number, strands[0] as number];
      ids.section.push(section);
      ids.strand.push(strand);
      if (first === "") first = `F-${at}:1`;
      const [near, far] = part.turned ? (["B", "A"] as const) : (["A", "B"] as const);
      if (pending && open.section !== undefined) {
        const ends = [open.section, open.side ?? "B", section, near] as const;
        const id: number = pending.turned
          ? made.splice(ends[2], ends[3], ends[0], ends[1], pending.more)
          : made.splice(ends[0], ends[1], ends[2], ends[3], pending.more);
        ids.splice.push(id);
        pending = null;
      } else if (open.inner) land(section, near, open.inner[0], part.lands?.[0]);
      else {
        const { port, position } = panel(at);
        endCord(port);
        land(section, near, position, part.lands?.[0]);
      }
      open = { section, side: far, lands: part.lands?.[1] ?? {} };
    }
  }
  if (open.section !== undefined) {
    const { position } = panel(parts.length);
    land(open.section, open.side, position, open.lands);
  }
  return { made, what: first || equipment, ids };
}

export const loss = (plant: MadePlant, what: unknown, more: object = {}): Promise<LossAnswer> =>
  plant.run<LossAnswer>("light.loss", { what, ...more });

export interface Asked extends MadeLine {
  readonly plant: MadePlant;
  readonly answer: LossAnswer;
  readonly line: LineLoss;
}

/** Makes a line and asks what it loses. */
export async function lossOf(parts: readonly Part[], asked: object = {}, own: Own = {}): Promise<Asked> {
  const line = makeLine(parts, own);
  const plant = await line.made.plant();
  const answer = await loss(plant, line.what, asked);
  return { ...line, plant, answer, line: answer.lines[0] as LineLoss };
}

export const kindsOf = (answer: LossAnswer): string => answer.terms.map(({ kind }) => kind).join(" ");
export const termsOf = (answer: LossAnswer, kind: string) => answer.terms.filter((term) => term.kind === kind);
