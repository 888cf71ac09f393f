import { say } from "../../words/say.ts";
import { choice, reference, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const module = defineKind({
  name: "module",
  one: say`module`,
  many: say`modules`,
  group: "patching",
  help: say`A passive unit with joins inside: cassette, harness, splitter, wavelength filter, attenuator.`,
  address: { parents: ["panel_id", "space_id"], separator: "/", name: "tag" },
  key: ["space_id", "panel_id", "tag"],
  unique: true,
  fields: {
    tag: tag(say`The module's number.`),
    space_id: reference("space", say`space`, say`Where it is, when not in a panel.`),
    panel_id: reference("panel", say`panel`, say`The panel it sits in.`),
    kind: choice(
      say`kind`,
      say`What it does.`,
      {
        cassette: say`cassette`,
        harness: say`harness`,
        splitter: say`splitter`,
        filter: say`wavelength filter`,
        attenuator: say`attenuator`,
      },
      { required: true, initial: "cassette" },
    ),
    slot: text(say`slot`, say`The slot it sits in.`, { max: 30 }),
    model: text(say`model`, say`What it is.`),
    ...physical,
    ...provenance,
  },
});
