import { choice, integer, reference, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";
import { CONNECTORS } from "../lists.ts";

export const port = defineKind({
  name: "port",
  one: "port",
  many: "ports",
  group: "patching",
  help: "An opening that takes a plug: of a panel, a module or a device.",
  address: { parents: ["panel_id", "module_id", "device_id"], separator: ":", name: "tag" },
  key: ["panel_id", "module_id", "device_id", "tag"],
  unique: true,
  indices: [["module_id"], ["device_id"]],
  ownedBy: ["panel_id", "module_id", "device_id"],
  fields: {
    tag: tag("The number or name on it."),
    former_tags: shape("names", "former numbers", "Numbers it had before it was renumbered; they stay findable."),
    panel_id: reference("panel", "panel", "The panel it is on."),
    module_id: reference("module", "module", "The module it is on."),
    device_id: reference("device", "device", "The device it is on."),
    face_row: integer("row", "Row on the face, from the top.", { min: 1, max: 50 }),
    connector: choice("connector", "What plug it takes.", CONNECTORS),
    polish: choice("polish", "How the plug's face is polished.", { pc: "PC", upc: "UPC", apc: "APC" }),
    adapter_colour: text("adapter colour", "Colour of the adapter.", { max: 40 }),
    condition: choice("condition", "Whether it is fit for use.", { good: "good", dirty: "dirty", damaged: "damaged" }),
    front: choice("front", "What was seen in front; empty where nobody looked.", {
      cord: "cord seen",
      empty: "seen empty",
    }),
    ...physical,
    ...provenance,
  },
});
