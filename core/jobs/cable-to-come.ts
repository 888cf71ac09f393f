/** Strands of a cable that a job's own open step will enter: they are on no record yet, and a crew splices by their colours. */
import { coloursOf } from "../act/cable-colours.ts";
import { groupsGiven } from "../act/cable-design.ts";
import { escapeName } from "../model/address.ts";
import type { Row } from "../model/dictionary.ts";
import { Refusal } from "../result.ts";
import { schemeOf } from "../standards/strand-colours.ts";
import { resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { type SheetEnd, coloursOf as sheetColours } from "./splice-sheet.ts";
import type { JobStep } from "./stored.ts";

interface Entered {
  readonly tag?: unknown;
  readonly type?: unknown;
  readonly units?: unknown;
}

/** By strand, as `F-012-L1:3`. */
export async function strandsToCome(reader: Reader, steps: readonly JobStep[]): Promise<ReadonlyMap<string, SheetEnd>> {
  const found = new Map<string, SheetEnd>();
  for (const { act, state, input } of steps) {
    if (act !== "cable.enter" || state !== "open") continue;
    const { tag, type, units } = (input ?? {}) as Entered;
    if (typeof tag !== "string" || !Array.isArray(units)) continue;
    const row = typeof type === "string" ? await typeNamed(reader, type) : null;
    const colours = coloursOf(groupsGiven(units), row ? schemeOf(row, row) : null);
    for (const [index, layers] of colours.entries()) {
      const own = `${escapeName(tag, "")}:${index + 1}`;
      // It has no id before it is entered.
      found.set(own, {
        strand: { kind: "strand", id: 0, tag: own },
        ...sheetColours(layers),
      });
    }
  }
  return found;
}

/** The strands of a plain list such as `F-012-L1:1-4,7`; null where one of them is none of those to come. */
export function listedToCome(text: unknown, toCome: ReadonlyMap<string, SheetEnd>): SheetEnd[] | null {
  if (typeof text !== "string" || toCome.size === 0) return null;
  const colon = text.lastIndexOf(":");
  const list = text.slice(colon + 1);
  if (!/^[\d,-]+$/.test(list)) return null;
  const ends = list.split(",").flatMap((part) => {
    const [from = 0, to = from] = part.split("-").map(Number);
    return Array.from({ length: Math.max(0, to - from + 1) }, (_, n) =>
      toCome.get(`${text.slice(0, colon)}:${from + n}`),
    );
  });
  return ends.every((end) => end !== undefined) ? ends : null;
}

/** Null for one that is not on record any more. */
async function typeNamed(reader: Reader, type: string): Promise<Row<"cable_type"> | null> {
  try {
    const { id } = await resolveOne(reader, type, { kinds: ["cable_type"], field: "type" });
    const [row = null] = await reader.rows<Row<"cable_type">>("select * from cable_type where id = ?", [id]);
    return row;
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
