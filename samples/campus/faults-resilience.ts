/** What a loss would take on the demo campus, on purpose: policies that find it, and a repair that was never replaced. */
import type { Crew } from "./crew.ts";

export async function plantFaultsOfResilience(crew: Crew): Promise<void> {
  crew.sitting("clerk", "2026-09-28", "what the plant wants to keep back");
  const policy = { how_known: "policy" };
  await crew.add("limit_value", [
    {
      tag: "spares.strands",
      meaning: "Spare strands wanted in a cable that is in use",
      value: 4,
      unit: "strands",
      ...policy,
    },
    {
      tag: "slack.keep.hand_hole",
      meaning: "Slack to be kept in a hand hole",
      value: 5,
      unit: "m",
      ...policy,
    },
  ]);
  await crew.add("limit_value", [{ tag: "repair.lost_m", value: 3, unit: "m", ...policy }]);
  await crew.add("job", [
    {
      tag: "J-5",
      reason: "cable over the fence after the digger",
      state: "done",
      people: "crew 2",
      starts_on: "2026-02-11",
      ends_on: "2026-02-12",
      lasting: "temporary",
      replace_by: "2026-08-31",
    },
  ]);
}
