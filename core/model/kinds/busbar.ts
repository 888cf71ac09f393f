import { say } from "../../words/say.ts";
import { reference, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const busbar = defineKind({
  name: "busbar",
  one: say`busbar`,
  many: say`busbars`,
  group: "places",
  help: say`The earthing bar of a space.`,
  address: { parents: ["space_id"], separator: "/", name: "tag" },
  key: ["space_id", "tag"],
  unique: true,
  ownedBy: ["space_id"],
  fields: {
    tag: tag(say`The busbar's number.`),
    space_id: reference("space", say`space`, say`Where it is.`, { required: true }),
    connected_to: text(say`connected to`, say`What it is earthed to.`),
    ...physical,
    ...provenance,
  },
});
