/** Strands taken out of a cable on its way, and joined again. */
import { z } from "zod";
import { breakout } from "../../breakout/breakout.ts";
import { closing } from "../../breakout/closing.ts";
import { defineRead } from "../define.ts";

const address = z.string().trim().min(1, "is empty").max(400, "is longer than 400 characters");
const tag = z.string().trim().min(1, "is empty").max(60, "is longer than 60 characters");
const cable = z.union([address, z.int().min(1)]).describe("The cable, by its tag or id.");
const at = address.describe("Where it is opened: the place, or the stop as F-012@3.");

export const breakoutPlans = defineRead({
  name: "breakout.plans",
  help: "Strands for somebody from a cable that passes by: whether its loop comes out or it is opened in place, which free strands in which units and the circuits at risk there, where it is cut, the lateral, case and trays, splices with colours, the loss of the new circuits, what goes dead beyond, and the steps.",
  input: z.strictObject({
    cable,
    at,
    strands: z.int().min(1, "is below 1").max(20_000, "is above 20,000").describe("How many strands are wanted."),
    side: z
      .enum(["a", "z", "both"])
      .describe("Towards the cable's first stop, its last, or both: then each strand serves on both sides."),
    cut: z
      .enum(["edge", "middle"])
      .optional()
      .describe("Where in the window it is cut; left out, the edge away from the side wanted, or the middle for both."),
    to: address.optional().describe("Where the lateral ends: a room, a hole or a building."),
    length_m: z
      .number()
      .gt(0, "is nothing")
      .max(100_000)
      .optional()
      .describe("Metres of lateral; left out, its way's."),
    type: address.optional().describe("The lateral's cable type."),
    lateral: tag.optional().describe("The number of the lateral."),
    closure: address.optional().describe("The case: one there, or one in stock."),
    new_closure: tag.optional().describe("Or the number of a new case."),
    application: address.optional().describe("What is to run on it; left out, every application made for the glass."),
    most: z.int().min(1).max(20).default(5).describe("So many sets of units at most."),
  }),
  run: async ({ reader, today, heldGlass }, input) =>
    breakout(
      reader,
      {
        ...input,
        cut: input.cut ?? null,
        to: input.to ?? null,
        length_m: input.length_m ?? null,
        type: input.type ?? null,
        lateral: input.lateral ?? null,
        closure: input.closure ?? null,
        new_closure: input.new_closure ?? null,
        application: input.application ?? null,
      },
      { today, held: await heldGlass() },
    ),
});

export const breakoutClosing = defineRead({
  name: "breakout.closing",
  help: "The reverse of a break-out: which strands cut at a place can be joined again, the splices taken out for it, what lateral goes out of use, the circuits that go down, and the steps.",
  input: z.strictObject({
    cable,
    at,
    strands: address.optional().describe("Which, such as 25-28; left out, all that are cut there."),
    closure: address.optional().describe("The case for splices of strands that lie in no tray yet."),
  }),
  run: ({ reader, today }, input) =>
    closing(reader, { ...input, strands: input.strands ?? null, closure: input.closure ?? null }, today),
});
