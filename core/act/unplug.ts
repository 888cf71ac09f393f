/** Unplug cords: at both ends, or at one so that the other stays where it is. */
import { z } from "zod";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { cordNamed, cordRef, cordWords, markUnplugged, takeAway } from "./cords.ts";
import { address } from "./inputs.ts";
import { portNamed } from "./named.ts";

export const unplugInput = z.strictObject({
  cords: z.array(cordRef).min(1).max(2000),
  at: address(
    say`The port where one end is pulled; the cord hangs loose there and stays plugged at its other end.`,
  ).optional(),
});

export async function planUnplug(
  context: ActContext,
  input: z.output<typeof unplugInput>,
): Promise<Plan<{ readonly unplugged: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const cords = new Map<number, Awaited<ReturnType<typeof cordNamed>>>();
  for (const [i, ref] of input.cords.entries()) {
    const cord = await cordNamed(reader, ref, `cords.${i}`);
    if (cords.has(cord.id)) {
      refuse("bad_input", say`${await cordWords(reader, cord)} is named twice.`, [
        { row: i + 1, field: "cords", record: String(ref), reason: say`is the same cord again` },
      ]);
    }
    cords.set(cord.id, cord);
  }
  const all = [...cords.values()];
  const [first] = all;
  const words = first && all.length === 1 ? await cordWords(reader, first) : counted(all.length, "cord");
  if (input.at === undefined) {
    for (const cord of all) takeAway(draft, cord);
    await markUnplugged(
      draft,
      all.flatMap(({ a_port_id, b_port_id }) => [a_port_id, b_port_id]),
      new Set(cords.keys()),
    );
    return draft.plan(say`Unplug ${words}`, { unplugged: all.length });
  }
  const port = await portNamed(reader, input.at, "at");
  for (const cord of all) {
    const end = cord.a_port_id === port.id ? "a" : cord.b_port_id === port.id ? "b" : null;
    if (end === null) {
      const reason = say`has no end in ${port.tag}`;
      const record = await cordWords(reader, cord);
      refuse("not_possible", say`The ${record} ${reason}.`, [{ field: "at", record, reason }]);
    }
    draft.update("cord", cord.id, end === "a" ? { a_port_id: null } : { b_port_id: null });
  }
  await markUnplugged(draft, [port.id], new Set(cords.keys()));
  return draft.plan(say`Unplug ${words} at ${port.tag}`, { unplugged: all.length });
}
