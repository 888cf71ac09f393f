/** What a sheet names and the record hasn't: places, panels, cases, trays, circuits. Made only where that is chosen, one by one. */
import { type Problem, refuse } from "../result.ts";
import { resolve } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { namesIn } from "./names-in.ts";
import type { RowCells } from "./row-cells.ts";
import type { Act, Shape } from "./shape.ts";
import { namesWay } from "./shapes/cable-course.ts";

/** In the order in which they must be made. */
export const MADE = ["building", "space", "panel", "closure", "tray", "circuit"] as const;
export type MadeKind = (typeof MADE)[number];

export interface Missing {
  readonly kind: MadeKind;
  readonly address: string;
  /** Rows of the sheet that name it. */
  readonly rows: readonly number[];
  /** Of a panel the ports, of a case the trays that the sheet names, as they would be made. */
  readonly ports: readonly string[];
}

/** What is to be made, as somebody chose. */
export interface ToMake {
  readonly kind: MadeKind;
  readonly address: string;
  /** What kind of place a space is. */
  readonly space_kind?: string | undefined;
  /** Plug of a panel's ports. */
  readonly connector?: string | undefined;
  /** Splices that a tray takes. */
  readonly capacity?: number | undefined;
}

interface Noted {
  readonly kind: MadeKind;
  readonly address: string;
  readonly rows: Set<number>;
  readonly ports: Set<string>;
}

/** Asks the record once for each name of the sheet. */
class Names {
  readonly found = new Map<string, Noted>();
  readonly #known = new Map<string, boolean>();
  readonly #reader: Reader;

  constructor(reader: Reader) {
    this.#reader = reader;
  }

  async #isKnown(kinds: readonly (MadeKind | "module" | "device")[], text: string) {
    const key = `${kinds[0]} ${text}`;
    let known = this.#known.get(key);
    if (known === undefined) {
      known = (await resolve(this.#reader, text, { kinds })).length > 0;
      this.#known.set(key, known);
    }
    return known;
  }

  #note(kind: MadeKind, address: string, row: number, port?: string): void {
    const key = `${kind} ${address}`;
    const noted = this.found.get(key) ?? { kind, address, rows: new Set<number>(), ports: new Set<string>() };
    noted.rows.add(row);
    if (port) noted.ports.add(port);
    this.found.set(key, noted);
  }

  async space(text: string, row: number): Promise<void> {
    if (await this.#isKnown(["space"], text)) return;
    const { parent } = parted(text);
    if (parent !== null && !(await this.#isKnown(["building"], parent))) this.#note("building", parent, row);
    this.#note("space", text, row);
  }

  /** Its places; a way on record is none. */
  async course(text: string, row: number): Promise<void> {
    for (const one of namesIn(text, "course")) if (!(await this.#isWay(one))) await this.space(one, row);
  }

  async #isWay(text: string): Promise<boolean> {
    const key = `way ${text}`;
    const known = this.#known.get(key) ?? (await namesWay(this.#reader, text));
    this.#known.set(key, known);
    return known;
  }

  /** A tray by its address; one that is named without its case can't be made. */
  async tray(text: string, row: number): Promise<void> {
    const { parent: closure, own } = parted(text);
    if (closure === null || (await this.#isKnown(["tray"], text))) return;
    if (await this.#isKnown(["closure"], closure)) return this.#note("tray", text, row);
    const { parent: space } = parted(closure);
    if (space !== null) await this.space(space, row);
    this.#note("closure", closure, row, own);
  }

  async circuit(text: string, row: number): Promise<void> {
    if (!(await this.#isKnown(["circuit"], text))) this.#note("circuit", text, row);
  }

  async port(text: string, row: number): Promise<void> {
    const colon = text.lastIndexOf(":");
    if (colon < 1) return;
    const panel = text.slice(0, colon).trim();
    if (await this.#isKnown(["panel", "module", "device"], panel)) return;
    const { parent } = parted(panel);
    if (parent !== null) await this.space(parent, row);
    this.#note(
      "panel",
      panel,
      row,
      text
        .slice(colon + 1)
        .replace(/#\d+$/, "")
        .trim(),
    );
  }
}

const parted = (address: string): { parent: string | null; own: string } => {
  const at = address.lastIndexOf("/");
  return at < 0 ? { parent: null, own: address } : { parent: address.slice(0, at), own: address.slice(at + 1) };
};

export async function missingIn(reader: Reader, shape: Shape, rows: readonly RowCells[]): Promise<Missing[]> {
  const names = new Names(reader);
  for (const cells of rows)
    for (const column of shape.columns) {
      const text = column.names && cells.text(column.name);
      if (!text) continue;
      if (column.names === "port") await names.port(text, cells.row);
      else if (column.names === "tray") await names.tray(text, cells.row);
      else if (column.names === "circuit") await names.circuit(text, cells.row);
      else if (column.names === "course") await names.course(text, cells.row);
      else await names.space(text, cells.row);
    }
  return [...names.found.values()]
    .sort((a, b) => MADE.indexOf(a.kind) - MADE.indexOf(b.kind))
    .map(({ kind, address, rows: own, ports }) => ({ kind, address, rows: [...own], ports: [...ports] }));
}

/** Holds what was chosen against what is missing, in the order in which it must be made. */
export function chosen(missing: readonly Missing[], make: readonly ToMake[]): { missing: Missing; make: ToMake }[] {
  const problems: Problem[] = [];
  for (const one of make)
    if (!missing.some(({ kind, address }) => kind === one.kind && address === one.address))
      problems.push({
        field: "create",
        record: one.address,
        reason: say`is no ${one.kind} that the sheet names and the record lacks`,
      });
  if (problems.length > 0) refuse("bad_input", say`What is to be made isn't missing.`, problems);
  return missing.flatMap((lacked) => {
    const found = make.find(({ kind, address }) => kind === lacked.kind && address === lacked.address);
    return found ? [{ missing: lacked, make: found }] : [];
  });
}

/** The act that makes it. */
export function making({ kind, address, ports }: Missing, { space_kind, connector, capacity }: ToMake): Act {
  const { parent, own } = parted(address);
  const takes = capacity === undefined ? {} : { capacity };
  switch (kind) {
    case "building":
      return { name: "record.add", input: { kind, values: { tag: address } } };
    case "space": {
      const values = {
        ...{ tag: own, ...(parent === null ? {} : { building_id: parent }) },
        ...(space_kind ? { kind: space_kind } : {}),
      };
      return { name: "record.add", input: { kind, values } };
    }
    case "closure":
      return {
        name: "closure.enter",
        input: { tag: own, space: parent, trays: ports.length > 0 ? [{ numbers: ports.join(","), ...takes }] : [] },
      };
    case "tray":
      return { name: "record.add", input: { kind, values: { tag: own, closure_id: parent, ...takes } } };
    case "circuit":
      return { name: "circuit.enter", input: { tag: address } };
    case "panel": {
      const numbers = ports.map((port) => port.replace(/\s*(?:[-‐‑‒–—]|\.\.|…)\s*/g, "..")).join(",");
      return {
        name: "panel.enter",
        input: { tag: own, space: parent, ports: numbers ? [{ numbers, ...(connector ? { connector } : {}) }] : [] },
      };
    }
  }
}
