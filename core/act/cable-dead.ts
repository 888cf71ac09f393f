/**
 * Sheath that was cut off a cable: left dead in its way, where it goes on taking room and nobody takes it for a cable in use,
 * or drawn out. Left, it is a cable of its own without glass, out of use, in the legs it lies in; drawn out, it is no longer
 * there and only the record of it stays.
 */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { lifeWords } from "../model/kind.ts";
import { refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { cableEnterInput, planCableEnter } from "./cable-enter.ts";
import { stopInput } from "./cable-stops.ts";
import { cableInput, cableStretch } from "./cable-stretch.ts";
import { type ActContext, dayOf, PlanDraft } from "./context.ts";

export const cableDeadInput = z.strictObject({
  cable: cableInput.describe(say`The cable it was cut off.`),
  tag: z
    .string()
    .trim()
    .min(1, say`is empty`)
    .max(60, say`is longer than 60 characters`)
    .describe(say`The number of the dead length: a new one, or that of one on record.`),
  became: z
    .enum(["left", "pulled_out"])
    .describe(say`What became of it: left where it lies, for it can't be drawn out; or pulled out.`),
  stops: z
    .array(stopInput)
    .min(2, say`must be at least two: where it begins and where it ends`)
    .max(2000)
    .optional()
    .describe(say`Where it lies, from one end to the other; an end inside a way has no space. Not for one on record.`),
});

export interface CableDead {
  readonly tag: string;
  /** Legs in which it lies, or lay. */
  readonly legs: number;
}

/** Refuses a number that another cable has, one on record that is in use or gone, and a new one of which nobody says where. */
export async function planCableDead(
  context: ActContext,
  input: z.output<typeof cableDeadInput>,
): Promise<Plan<CableDead>> {
  const { reader } = context;
  const { cable } = await cableStretch(reader, input.cable);
  const [known] = await reader.rows<Pick<Row<"cable">, "id" | "tag" | "life"> & { readonly strands: number }>(
    `select id, tag, life, (select count(*) from strand t where t.cable_id = c.id) as strands from cable c where tag = ?`,
    [input.tag],
  );
  if (known) return onRecord(context, known, cable.tag, input);
  if (input.stops === undefined) {
    refuse("bad_input", say`${input.tag} is not on record: say where the dead sheath of ${cable.tag} lies.`, [
      { field: "stops", record: input.tag, reason: say`are needed: where it begins and where it ends` },
    ]);
  }
  const [sheet] = await reader.rows<
    Pick<Row<"cable">, "type_id" | "differs" | "mark_unit" | "mark_breaks" | "owner_id">
  >("select type_id, differs, mark_unit, mark_breaks, owner_id from cable where id = ?", [cable.id]);
  const left = input.became === "left";
  const entered = await planCableEnter(
    context,
    cableEnterInput.parse({
      tag: input.tag,
      life: left ? "out_of_use" : "removed",
      mark_unit: sheet?.mark_unit ?? null,
      stops: input.stops,
      notes: say`Dead sheath, cut off ${cable.tag}.`,
    }),
  );
  const day = dayOf(context);
  const draft = new PlanDraft(context);
  for (const change of entered.changes) {
    if (change.op !== "insert" || (change.kind !== "cable" && change.kind !== "leg")) draft.changes.push(change);
    else {
      const since = left ? { life: "out_of_use", life_from: day } : { life: "removed", life_until: day };
      // It is of the make of the other, and as thick; glass that nobody can use is not on record.
      draft.changes.push({
        ...change,
        values: {
          ...change.values,
          ...(change.kind === "cable" ? { ...sheet } : {}),
          ...since,
        } as typeof change.values,
      });
    }
  }
  draft.notice(
    left
      ? say`${input.tag} takes room in its way until it is drawn out: label both ends as dead. Indoors the local code may ask that out-of-use cable is removed.`
      : say`${input.tag} is no longer there: what it lay in is free of it.`,
  );
  const what = left ? say`stays dead where it lies` : say`was pulled out`;
  return draft.plan(say`Record that ${input.tag}, cut off ${cable.tag}, ${what}`, {
    tag: input.tag,
    legs: entered.answer.legs,
  });
}

async function onRecord(
  context: ActContext,
  known: Pick<Row<"cable">, "id" | "tag" | "life"> & { readonly strands: number },
  cable: string,
  { became, stops }: z.output<typeof cableDeadInput>,
): Promise<Plan<CableDead>> {
  const refused = (field: string, reason: string): never =>
    refuse("not_possible", say`${known.tag} is no dead sheath of ${cable} that can be told of: it ${reason}.`, [
      { field, record: known.tag, reason },
    ]);
  if (known.strands > 0) refused("tag", say`has ${counted(known.strands, "strand")} on record`);
  if (known.life !== "out_of_use") refused("tag", say`is ${lifeWords(known.life)}, not out of use`);
  if (stops !== undefined) refused("stops", say`is on record, and so is where it lies`);
  const draft = new PlanDraft(context);
  const legs = await context.reader.rows<{ id: number }>(
    "select l.id from leg l join stop s on s.id = l.from_stop_id where s.cable_id = ? and l.life = 'out_of_use' order by l.id",
    [known.id],
  );
  if (became === "pulled_out") {
    const gone = { life: "removed", life_until: dayOf(context) } as const;
    draft.update("cable", known.id, gone);
    for (const { id } of legs) draft.update("leg", id, gone);
  }
  return draft.plan(
    became === "left"
      ? say`Leave ${known.tag} dead where it lies`
      : say`Record that ${known.tag}, cut off ${cable}, was pulled out`,
    { tag: known.tag, legs: legs.length },
  );
}
