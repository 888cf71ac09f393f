/** Note what was seen in front of ports: a cord, nothing, or that nobody looked after all. */
import { z } from "zod";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { address } from "./inputs.ts";
import { cordsAt } from "./joints.ts";
import { named, portsNamed } from "./named.ts";

export const sightFrontInput = z.strictObject({
  ports: address(say`The ports looked at, such as LIB/101/A:01-24.`),
  front: z.enum(["empty", "cord", "not_looked_at"]).describe(say`What was seen in front of each.`),
  visit: address(say`The visit in which it was seen.`).nullable().optional(),
});

const WORDS = { empty: say`seen empty`, cord: say`seen with a cord`, not_looked_at: say`not looked at` } as const;

export async function planSightFront(
  context: ActContext,
  input: z.output<typeof sightFrontInput>,
): Promise<Plan<{ readonly ports: number; readonly changed: number }>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const ports = await portsNamed(reader, input.ports, "ports");
  const visit = input.visit ? await named(reader, input.visit, ["visit"], "visit") : null;
  const front = input.front === "not_looked_at" ? null : input.front;
  const cords = await cordsAt(
    reader,
    ports.map(({ id }) => id),
  );
  let changed = 0;
  const contradicted: string[] = [];
  for (const port of ports) {
    if (port.front !== front) changed++;
    if (port.front !== front || visit) {
      draft.update("port", port.id, { front, ...(visit ? { basis: "seen", basis_visit_id: visit.id } : {}) });
    }
    if (front === "empty" && cords.has(port.id)) contradicted.push(port.tag);
  }
  if (contradicted.length > 0) {
    const more = contradicted.length > 10 ? say` and ${contradicted.length - 10} more` : "";
    draft.notice(say`A cord is on record in ${contradicted.slice(0, 10).join(", ")}${more}; unplug it if it is gone.`);
  }
  const summary = say`Note ${input.ports} as ${WORDS[input.front]}`;
  return draft.plan(ports.length > 1 ? `${summary} (${counted(ports.length, "port")})` : summary, {
    ports: ports.length,
    changed,
  });
}
