/** How a cut cable is mended. */
import { z } from "zod";
import { lostCaseOf } from "../../repair/lost-case-told.ts";
import { mendSeveral as planSeveral } from "../../repair/several.ts";
import { mendWhole } from "../../repair/whole.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";
import { address, cutTogether, lost } from "../inputs.ts";

export const mendPlans = defineRead({
  name: "mend.plans",
  help: say`Every way to mend a cut cable: one splice at a new hole or at an existing one over coils that can be pulled, two with a piece of new cable, one with new cable up to an end, or a new cable; beside a case in which it is opened and beside a panel as well; each with what it draws on, what is not proven, and the circuits that are down.`,
  input: z.strictObject({
    cable: z.union([address, z.int().min(1)]).describe(say`The cable, by its tag or id.`),
    mark: z.number().min(-10_000_000).max(10_000_000).optional().describe(say`The sheath mark at the cut, as printed.`),
    after: address
      .optional()
      .describe(
        say`Or the stop before the cut, by the place or as F-012@3; beside a mark, which of the stretches it stands on.`,
      ),
    metres: z
      .number()
      .min(-100_000)
      .max(100_000)
      .optional()
      .describe(say`Metres from that place's mouth to the cut; left out, nobody knows where before the next place.`),
    between: z
      .tuple([address, address])
      .optional()
      .describe(
        say`Or two places of the cable between which it is cut, beside one another or farther apart; without mark and metres what lies between is given up, and every way holds wherever in it the cut is found. Metres are from the first.`,
      ),
    lost_left_m: lost.describe(say`Metres destroyed or strained towards the first stop; left out, the plant's policy.`),
    lost_right_m: lost.describe(say`The same towards the last stop.`),
    dark: address
      .optional()
      .describe(say`The strands that are dark, where others still shine: units or numbers, such as BL,OR or 1-24.`),
    losses: z.boolean().default(true).describe(say`Whether what circuits lose afterwards is reckoned.`),
  }),
  run: async ({ reader, today, heldGlass }, input) =>
    (
      await mendWhole(
        reader,
        {
          cable: input.cable,
          mark: input.mark ?? null,
          after: input.after ?? null,
          metres: input.metres ?? null,
          ...(input.between ? { between: input.between } : {}),
          lost_left_m: input.lost_left_m ?? null,
          lost_right_m: input.lost_right_m ?? null,
          dark: input.dark ?? null,
        },
        { today, held: await heldGlass() },
        { losses: input.losses },
      )
    ).answer,
});

export const mendCase = defineRead({
  name: "mend.case",
  help: say`How a wrecked splice case is renewed: whether every sheath in it reaches into a new one at the same place once it is cut back, what it draws on, what is spliced again, and the circuits that are down; also where its loss is on record already.`,
  input: z.strictObject({
    closure: z.union([address, z.int().min(1)]).describe(say`The wrecked case, by its address or id.`),
    lost_m: lost.describe(say`Metres of each sheath destroyed from the case on; left out, the plant's policy.`),
  }),
  run: ({ reader, today }, { closure, lost_m }) => lostCaseOf(reader, { closure, lost_m: lost_m ?? null }, today),
});

export const mendSeveral = defineRead({
  name: "mend.several",
  help: say`Every way to mend all cables that are cut at once: those of a pathway or pipe, or those between two places; a plan for each, the one with the most at stake first, and whether the holes they share have room for all cases.`,
  input: z.strictObject({
    ...cutTogether,
  }),
  run: async ({ reader, today, heldGlass }, input) =>
    planSeveral(
      reader,
      {
        of: input.of,
        between: input.between ?? null,
        metres: input.metres ?? null,
        lost_from_m: input.lost_from_m ?? null,
        lost_to_m: input.lost_to_m ?? null,
      },
      { today, held: await heldGlass() },
    ),
});
