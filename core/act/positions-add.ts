/** Give ports that have no positions theirs, such as ports that were typed into a table. */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { CONNECTORS } from "../model/lists.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address } from "./inputs.ts";
import { named } from "./named.ts";
import type { PortsEntered } from "./panel-enter.ts";
import { POSITIONS } from "./port-groups.ts";

export const positionsAddInput = z.strictObject({
  on: address(say`The panel, module or device whose ports have none, or one port, such as LIB/101/A or LIB/101/A:25.`),
  positions: z
    .int()
    .min(1)
    .max(144)
    .optional()
    .describe(say`Fibre places of each port whose plug doesn't say: 1 simplex, 2 duplex, 8 to 24 array.`),
});

type Bare = Pick<Row<"port">, "tag" | "connector"> & { readonly id: number };

/**
 * Ports that have positions stay as they are. Refuses `not_found` or `ambiguous` for what they are on, `not_possible` where
 * every port has its positions, `bad_input` where plugs don't say how many and nobody did, or where they all say and somebody did.
 */
export async function planPositionsAdd(
  context: ActContext,
  input: z.output<typeof positionsAddInput>,
): Promise<Plan<PortsEntered>> {
  const draft = new PlanDraft(context);
  const { kind, id, tag } = await named(context.reader, input.on, ["panel", "module", "device", "port"], "on");
  const bare = await context.reader.rows<Bare>(
    `select o.id, o.tag, o.connector from port o where ${kind === "port" ? "o.id" : `o.${kind}_id`} = ? and o.life <> 'removed'
       and not exists (select 1 from position i where i.port_id = o.id) order by o.tag_key`,
    [id],
  );
  if (bare.length === 0) {
    refuse("not_possible", say`On ${tag} no port lacks its positions.`, [
      { field: "on", record: tag, reason: say`has no port without positions` },
    ]);
  }
  const told = ({ connector }: Bare): number | undefined => (connector ? POSITIONS[connector] : undefined);
  const untold = bare.filter((port) => told(port) === undefined);
  if (input.positions === undefined && untold.length > 0) {
    refuse(
      "bad_input",
      say`How many positions have the ports of ${tag} whose plugs don't say?`,
      untold.map((port) => ({
        field: "positions",
        record: port.tag,
        reason: say`is needed, since the plug (${port.connector ? CONNECTORS[port.connector] : say`no connector given`}) doesn't say`,
      })),
    );
  }
  if (input.positions !== undefined && untold.length === 0) {
    refuse("bad_input", say`The plugs of these ports say how many positions they have.`, [
      { field: "positions", reason: say`is said by the plugs; where they are wrong, correct the connector first` },
    ]);
  }
  const rows = bare.flatMap((port) =>
    Array.from({ length: told(port) ?? (input.positions as number) }, (_, k) => ({ port_id: port.id, ordinal: k + 1 })),
  );
  await draft.insert("position", rows);
  return draft.plan(say`Give ${counted(bare.length, "port")} of ${tag} ${counted(rows.length, "position")}`, {
    id,
    tag,
    ports: bare.length,
    positions: rows.length,
  });
}
