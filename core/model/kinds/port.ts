import { say } from "../../words/say.ts";
import { choice, integer, reference, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";
import { CONNECTORS } from "../lists.ts";

export const port = defineKind({
  name: "port",
  one: say`port`,
  many: say`ports`,
  group: "patching",
  help: say`An opening that takes a plug: of a panel, a module or a device.`,
  address: { parents: ["panel_id", "module_id", "device_id"], separator: ":", name: "tag" },
  key: ["panel_id", "module_id", "device_id", "tag"],
  unique: true,
  indices: [["module_id"], ["device_id"]],
  ownedBy: ["panel_id", "module_id", "device_id"],
  fields: {
    tag: tag(say`The number or name on it.`),
    former_tags: shape("names", say`former numbers`, say`Numbers it had before it was renumbered; they stay findable.`),
    panel_id: reference("panel", say`panel`, say`The panel it is on.`),
    module_id: reference("module", say`module`, say`The module it is on.`),
    device_id: reference("device", say`device`, say`The device it is on.`),
    face_row: integer(say`row`, say`Row on the face, from the top.`, { min: 1, max: 50 }),
    connector: choice(say`connector`, say`What plug it takes.`, CONNECTORS),
    polish: choice(say`polish`, say`How the plug's face is polished.`, { pc: say`PC`, upc: say`UPC`, apc: say`APC` }),
    adapter_colour: text(say`adapter colour`, say`Colour of the adapter.`, { max: 40 }),
    condition: choice(say`condition`, say`Whether it is fit for use.`, {
      good: say`good`,
      dirty: say`dirty`,
      damaged: say`damaged`,
    }),
    front: choice(say`front`, say`What was seen in front; empty where nobody looked.`, {
      cord: say`cord seen`,
      empty: say`seen empty`,
    }),
    ...physical,
    ...provenance,
  },
});
