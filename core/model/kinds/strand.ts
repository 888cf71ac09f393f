import { say } from "../../words/say.ts";
import { choice, integer, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const strand = defineKind({
  name: "strand",
  one: say`strand`,
  many: say`strands`,
  group: "glass",
  help: say`One fibre of a cable, numbered from 1 over the whole sheath.`,
  address: { parents: ["cable_id"], separator: ":", name: "number" },
  key: ["cable_id", "number"],
  unique: true,
  indices: [["unit_id"]],
  ownedBy: ["cable_id"],
  fields: {
    cable_id: reference("cable", say`cable`, say`The cable.`, { required: true }),
    number: integer(say`number`, say`Its number over the whole sheath, from 1.`, {
      min: 1,
      max: 100_000,
      required: true,
    }),
    unit_id: reference("unit", say`unit`, say`The tube or ribbon it lies in.`),
    place: integer(say`place`, say`Its position in its unit, from 1.`, { min: 1, max: 10_000 }),
    colour: text(say`colour`, say`Its colour, where it differs from the sequence.`, { max: 40 }),
    condition: choice(say`condition`, say`Whether it is fit for use.`, {
      good: say`good`,
      unproven: say`unproven`,
      degraded: say`degraded`,
      broken: say`broken`,
    }),
    condition_why: text(say`why`, say`Why it is in that condition.`, { max: 400 }),
    ...provenance,
  },
});
