import { say } from "../../words/say.ts";
import { integer, reference, yesNo } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const section = defineKind({
  name: "section",
  one: say`strand section`,
  many: say`strand sections`,
  group: "glass",
  help: say`One uninterrupted length of a strand's glass, from one stop to another.`,
  address: { parents: ["strand_id"], separator: "#", name: "ordinal" },
  key: ["strand_id", "ordinal"],
  unique: true,
  indices: [["a_stop_id"], ["b_stop_id"]],
  ownedBy: ["strand_id"],
  fields: {
    strand_id: reference("strand", say`strand`, say`The strand.`, { required: true }),
    ordinal: integer(say`order`, say`Its order along the strand, from 1.`, { min: 1, max: 10_000, required: true }),
    a_stop_id: reference("stop", say`A at`, say`The stop at its A end.`),
    b_stop_id: reference("stop", say`B at`, say`The stop at its B end.`),
    a_stub: yesNo(say`stub at A`, say`Whether enough is left at A to splice.`),
    b_stub: yesNo(say`stub at B`, say`Whether enough is left at B to splice.`),
    ...provenance,
  },
});
