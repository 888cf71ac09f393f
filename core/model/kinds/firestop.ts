import { say } from "../../words/say.ts";
import { date, reference, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const firestop = defineKind({
  name: "firestop",
  one: say`firestop`,
  many: say`firestops`,
  group: "ways",
  help: say`A sealed penetration of a rated wall or floor.`,
  address: { parents: ["pathway_id"], separator: "/", name: "tag" },
  key: ["pathway_id", "tag"],
  unique: true,
  ownedBy: ["pathway_id"],
  fields: {
    tag: tag(say`The firestop's number.`),
    pathway_id: reference("pathway", say`pathway`, say`The pathway that passes through it.`, { required: true }),
    rating: text(say`rating`, say`Its fire rating.`, { max: 40 }),
    listed_system: text(say`listed system`, say`The listed system it was built to.`),
    made_on: date(say`made on`, say`The day it was sealed.`),
    opened_on: date(say`last opened`, say`The day it was last opened.`),
    inspected_on: date(say`inspected`, say`The day it was last inspected.`),
    ...physical,
    ...provenance,
  },
});
