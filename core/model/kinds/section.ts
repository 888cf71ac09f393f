import { integer, reference, yesNo } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const section = defineKind({
  name: "section",
  one: "strand section",
  many: "strand sections",
  group: "glass",
  help: "One uninterrupted length of a strand's glass, from one stop to another.",
  address: { parents: ["strand_id"], separator: "#", name: "ordinal" },
  key: ["strand_id", "ordinal"],
  unique: true,
  indices: [["a_stop_id"], ["b_stop_id"]],
  ownedBy: ["strand_id"],
  fields: {
    strand_id: reference("strand", "strand", "The strand.", { required: true }),
    ordinal: integer("order", "Its order along the strand, from 1.", { min: 1, max: 10_000, required: true }),
    a_stop_id: reference("stop", "A at", "The stop at its A end."),
    b_stop_id: reference("stop", "B at", "The stop at its B end."),
    a_stub: yesNo("stub at A", "Whether enough is left at A to splice."),
    b_stub: yesNo("stub at B", "Whether enough is left at B to splice."),
    ...provenance,
  },
});
