/** Enter a closure with its splice trays. */
import { z } from "zod";
import { joinAddress } from "../model/address.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address, given, thing } from "./inputs.ts";
import { named, spaceFor, thingValues } from "./named.ts";
import { expandNumbering } from "./numbering.ts";

const trayGroup = z.strictObject({
  numbers: z.string().max(400).describe(say`The numbers of the trays from the bottom up, such as T1..T6.`),
  capacity: given("tray", "capacity"),
});

export const closureEnterInput = z.strictObject({
  tag: z.string().trim().min(1, say`is empty`).describe(say`The closure's number.`),
  space: address(say`Where it is, such as MH-03; empty for one in stock.`).nullable().optional(),
  panel: address(say`The panel it is a drawer of.`).nullable().optional(),
  kind: given("closure", "kind"),
  entries: given("closure", "entries"),
  capacity: given("closure", "capacity"),
  position: given("closure", "position"),
  trays: z.array(trayGroup).max(200).default([]),
  ...thing,
});

export async function planClosureEnter(
  context: ActContext,
  input: z.output<typeof closureEnterInput>,
): Promise<Plan<{ readonly id: number; readonly tag: string; readonly trays: number }>> {
  const draft = new PlanDraft(context);
  const { reader } = context;
  const space = await spaceFor(reader, input.space, "space");
  const panel = input.panel ? await named(reader, input.panel, ["panel"], "panel") : null;
  const values = await thingValues(reader, input);
  const id = await draft.insertOne("closure", {
    tag: input.tag,
    space_id: space?.id ?? null,
    panel_id: panel?.id ?? null,
    kind: input.kind,
    entries: input.entries,
    capacity: input.capacity,
    position: input.position,
    ...values,
  });
  const trays = input.trays.flatMap(({ numbers, capacity }, i) =>
    expandNumbering(numbers, `trays.${i}.numbers`).map((tag) => ({ tag, capacity })),
  );
  await draft.insert(
    "tray",
    trays.map(({ tag, capacity }, i) => ({
      tag,
      closure_id: id,
      position: i + 1,
      capacity,
      life: input.life ?? undefined,
      basis: input.basis,
    })),
  );
  const total = trays.reduce<number | null>(
    (sum, { capacity }) => (sum === null || typeof capacity !== "number" ? null : sum + capacity),
    0,
  );
  if (total !== null && typeof input.capacity === "number" && total > input.capacity) {
    draft.notice(say`The trays of ${input.tag} take ${total} splices, the closure ${input.capacity}.`);
  }
  const tag = joinAddress(space?.tag ?? null, "/", input.tag);
  return draft.plan(say`Enter closure ${tag} with ${counted(trays.length, "splice tray")}`, {
    id,
    tag,
    trays: trays.length,
  });
}
