/** Enter a passive unit with its ports, positions and the glass inside. */
import { z } from "zod";
import { joinAddress } from "../model/address.ts";
import { KINDS } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given, thing } from "./inputs.ts";
import { filterJoins, type Joined, splitterJoins, throughJoins } from "./module-design.ts";
import { named, thingValues } from "./named.ts";
import { draftPorts, insertPorts, type PortDraft, portGroup } from "./port-groups.ts";

const takes = z
  .enum(["cord", "strand"])
  .describe(say`What the ports take from outside: a cord is plugged into the front, a strand lands on the back.`);
const rearGroup = portGroup.extend({ takes: takes.default("strand") });
const frontGroup = portGroup.extend({ takes: takes.default("cord") });
const loss = z
  .union([z.number(), z.array(z.number()).max(1000)])
  .nullable()
  .optional()
  .describe(say`Loss in decibels: one value for all joins, or one a join or output.`);

const common = {
  tag: z.string().trim().min(1, say`is empty`).describe(say`The module's number.`),
  in: address(say`The panel it sits in, or the space, such as LIB/101/A or LIB/101; empty for one in stock.`)
    .nullable()
    .optional(),
  slot: given("module", "slot"),
  model: given("module", "model"),
  ...thing,
};

const through = {
  rear: z.array(rearGroup).min(1).max(50).describe(say`The rear ports, often arrays.`),
  front: z.array(frontGroup).min(1).max(200).describe(say`The front ports.`),
  map: z
    .union([
      z.enum(["straight", "crossed", "reversed"]),
      z
        .array(z.tuple([z.int().min(1), z.int().min(1)]))
        .min(1)
        .max(5000),
    ])
    .describe(say`How rear fibres come out in front: in order, pairs crossed, in reverse order, or listed pairs.`),
  loss_db: loss,
};

export const moduleEnterInput = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("cassette"), ...common, ...through }),
  z.strictObject({
    kind: z.literal("harness"),
    ...common,
    ...through,
    rear: z.array(frontGroup).min(1).max(50).describe(say`The array ends.`),
  }),
  z.strictObject({
    kind: z.literal("splitter"),
    ...common,
    inputs: z.array(frontGroup).min(1).max(20).describe(say`One input, or two for a splitter with a standby feed.`),
    outputs: z.array(frontGroup).min(1).max(200),
    loss_db: loss,
  }),
  z.strictObject({
    kind: z.literal("filter"),
    ...common,
    common: frontGroup.describe(say`The port that carries all bands.`),
    channels: z
      .array(
        frontGroup.extend({
          band: z
            .string()
            .trim()
            .min(1, say`is empty`)
            .max(60)
            .describe(say`Wavelengths in nanometres: 1310 or 1530-1565.`),
          loss_db: z.number().nullable().optional(),
        }),
      )
      .min(1)
      .max(200),
  }),
  z.strictObject({
    kind: z.literal("attenuator"),
    ...common,
    input: frontGroup,
    output: frontGroup,
    loss_db: z.number().describe(say`What it takes away, in decibels.`),
  }),
]);
type Input = z.output<typeof moduleEnterInput>;

interface Design {
  readonly ports: readonly PortDraft[];
  readonly joins: readonly Joined[];
}

/** A group of exactly one port, as filters and attenuators have. */
function single(group: z.output<typeof frontGroup>, field: string): PortDraft {
  const ports = draftPorts([group], field);
  const [only] = ports;
  if (ports.length !== 1 || !only) {
    refuse("bad_input", say`${group.numbers} is ${ports.length} ports; here one is meant.`, [
      { field: `${field}.numbers`, reason: say`must name one port` },
    ]);
  }
  return only;
}

function designOf(input: Input): Design {
  switch (input.kind) {
    case "cassette":
    case "harness": {
      const rear = draftPorts(input.rear, "rear");
      const front = draftPorts(input.front, "front");
      return { ports: [...rear, ...front], joins: throughJoins(rear, front, input.map, input.loss_db) };
    }
    case "splitter": {
      const inputs = draftPorts(input.inputs, "inputs");
      const outputs = draftPorts(input.outputs, "outputs");
      return { ports: [...inputs, ...outputs], joins: splitterJoins(inputs, outputs, input.loss_db) };
    }
    case "filter": {
      const port = single(input.common, "common");
      const channels = input.channels.map((channel, i) => ({
        ...single(channel, `channels.${i}`),
        band: channel.band,
        loss_db: channel.loss_db ?? null,
      }));
      return { ports: [port, ...channels], joins: filterJoins(port, channels) };
    }
    case "attenuator": {
      const a = single(input.input, "input");
      const b = single(input.output, "output");
      return { ports: [a, b], joins: throughJoins([a], [b], "straight", input.loss_db) };
    }
  }
}

/** The side of a port's positions that faces the glass inside: away from what it takes. */
const insideOf = ({ group }: PortDraft): "back" | "front" =>
  (group as z.output<typeof frontGroup>).takes === "strand" ? "front" : "back";

export interface ModuleEntered {
  readonly id: number;
  readonly tag: string;
  readonly ports: number;
  readonly positions: number;
  readonly joins: number;
}

/** Refuses `bad_input` when rear and front don't have the same number of places, `not_found` for where it sits. */
export async function planModuleEnter(context: ActContext, input: Input): Promise<Plan<ModuleEntered>> {
  const draft = new PlanDraft(context);
  const where = input.in ? await named(context.reader, input.in, ["panel", "space"], "in") : null;
  const design = designOf(input);
  // Numbers are checked over the whole unit: two groups may not share one.
  const tags = new Set<string>();
  for (const { tag } of design.ports) {
    if (tags.has(tag)) {
      refuse("bad_input", say`Port ${tag} comes twice in the module.`, [
        { record: tag, reason: say`comes in two groups` },
      ]);
    }
    tags.add(tag);
  }
  const values = await thingValues(context.reader, input);
  const id = await draft.insertOne("module", {
    tag: input.tag,
    kind: input.kind,
    panel_id: where?.kind === "panel" ? where.id : null,
    space_id: where?.kind === "space" ? where.id : null,
    slot: input.slot,
    model: input.model,
    ...values,
  });
  const made = await insertPorts(draft, { module_id: id }, design.ports, { life: input.life });
  await draft.insert(
    "module_join",
    design.joins.map(({ from, to, band, loss_db }) => ({
      module_id: id,
      a_position_id: made[from.port]?.positions[from.position - 1] as number,
      a_side: insideOf(design.ports[from.port] as PortDraft),
      b_position_id: made[to.port]?.positions[to.position - 1] as number,
      b_side: insideOf(design.ports[to.port] as PortDraft),
      band,
      loss_db,
      basis: input.basis,
    })),
  );
  const tag = joinAddress(where?.tag ?? null, "/", input.tag);
  const what = KINDS.module.fields.kind.values[input.kind];
  return draft.plan(say`Enter ${what} ${tag} with ${counted(design.ports.length, "port")}`, {
    id,
    tag,
    ports: design.ports.length,
    positions: made.reduce((sum, port) => sum + port.positions.length, 0),
    joins: design.joins.length,
  });
}
