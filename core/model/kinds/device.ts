import { integer, reference, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const device = defineKind({
  name: "device",
  one: "device",
  many: "devices",
  group: "service",
  help: "Equipment that lights the glass.",
  address: { parents: ["space_id"], separator: "/", name: "tag" },
  key: ["space_id", "tag"],
  unique: true,
  fields: {
    tag: tag("The device's name."),
    space_id: reference("space", "space", "Where it is; empty for one in stock."),
    rack: text("rack", "The rack it is in.", { max: 60 }),
    rack_unit: integer("rack unit", "Lowest rack unit it takes.", { min: 1, max: 100 }),
    model: text("model", "What it is."),
    ...physical,
    ...provenance,
  },
});
