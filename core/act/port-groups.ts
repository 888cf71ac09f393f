/** Ports entered as groups of alike ports: numbers, plug, positions. Panels, modules and devices all take them. */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { CONNECTORS } from "../model/lists.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import type { PlanDraft } from "./context.ts";
import { given } from "./inputs.ts";
import { expandNumbering } from "./numbering.ts";

export const portGroup = z.strictObject({
  numbers: z.string().max(4000).describe(say`The numbers on the ports, such as 01..24 or A1..A12.`),
  connector: given("port", "connector"),
  positions: z
    .int()
    .min(1)
    .max(144)
    .optional()
    .describe(say`Fibre places of each port: 1 simplex, 2 duplex, 8 to 24 array. Needed where the plug doesn't say.`),
  polish: given("port", "polish"),
  adapter_colour: given("port", "adapter_colour"),
  face_row: given("port", "face_row"),
});
export type PortGroup = z.output<typeof portGroup>;

export interface PortDraft {
  readonly tag: string;
  readonly positions: number;
  readonly group: PortGroup;
}

/** Fibre places of one plug where its form says; an array's count is never guessed. */
export const POSITIONS: Readonly<Partial<Record<keyof typeof CONNECTORS, number>>> = {
  lc: 1,
  lc_duplex: 2,
  sc: 1,
  sc_duplex: 2,
  st: 1,
  fc: 1,
  e2000: 1,
  mu: 1,
  sn: 2,
};

/**
 * The ports a list of groups stands for. Refuses (`bad_input`) a number that comes twice and an unknown place count.
 *
 * @param field the list of groups; empty where one group is the input itself
 */
export function draftPorts(groups: readonly PortGroup[], field: string): PortDraft[] {
  const drafts = groups.flatMap((group, i) => {
    const under = field === "" ? "" : `${field}.${i}.`;
    const where = `${under}numbers`;
    const positions = group.positions ?? (group.connector ? POSITIONS[group.connector] : undefined);
    if (positions === undefined) {
      const plug = group.connector ? CONNECTORS[group.connector] : say`no connector given`;
      refuse("bad_input", say`How many positions have the ports ${group.numbers}?`, [
        { row: i + 1, field: `${under}positions`, reason: say`is needed, since the plug (${plug}) doesn't say` },
      ]);
    }
    return expandNumbering(group.numbers, where).map((tag) => ({ tag, positions, group }));
  });
  const seen = new Set<string>();
  for (const { tag } of drafts) {
    if (seen.has(tag)) {
      refuse("bad_input", say`Port ${tag} comes in two groups.`, [
        { field: field || "numbers", record: tag, reason: say`comes twice` },
      ]);
    }
    seen.add(tag);
  }
  return drafts;
}

type Owner = Pick<Row<"port">, "panel_id" | "module_id" | "device_id">;

/**
 * Adds ports with their positions. `rows` spreads the ports evenly over that many rows of the face, in order.
 * Answers, for each port, its id and the ids of its positions in order.
 */
export async function insertPorts(
  draft: PlanDraft,
  owner: Partial<Owner>,
  ports: readonly PortDraft[],
  options: { readonly rows?: number | null | undefined; readonly life?: Row<"port">["life"] | null | undefined } = {},
): Promise<{ port: number; positions: number[] }[]> {
  const { rows, life } = options;
  const perRow = rows ? Math.ceil(ports.length / rows) : null;
  const ids = await draft.insert(
    "port",
    ports.map(({ tag, group }, i) => ({
      ...owner,
      tag,
      life: life ?? undefined,
      face_row: group.face_row ?? (perRow ? Math.floor(i / perRow) + 1 : null),
      connector: group.connector,
      polish: group.polish,
      adapter_colour: group.adapter_colour,
    })),
  );
  const places = await draft.insert(
    "position",
    ports.flatMap(({ positions }, i) =>
      Array.from({ length: positions }, (_, k) => ({ port_id: ids[i] as number, ordinal: k + 1 })),
    ),
  );
  let next = 0;
  return ports.map(({ positions }, i) => {
    const own = places.slice(next, next + positions);
    next += positions;
    return { port: ids[i] as number, positions: own };
  });
}
