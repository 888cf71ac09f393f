import { say } from "../../words/say.ts";
import { date, number, reference, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const bond = defineKind({
  name: "bond",
  one: say`bond`,
  many: say`bonds`,
  group: "places",
  help: say`A conductor from a cable's metal, a closure or a rack to a busbar.`,
  address: null,
  key: ["busbar_id", "stop_id", "closure_id", "panel_id"],
  unique: false,
  ownedBy: ["busbar_id"],
  fields: {
    busbar_id: reference("busbar", say`busbar`, say`The bar it goes to.`, { required: true }),
    stop_id: reference("stop", say`cable at`, say`The cable's stop whose metal is bonded.`),
    closure_id: reference("closure", say`closure`, say`The closure that is bonded.`),
    panel_id: reference("panel", say`panel`, say`The panel or rack that is bonded.`),
    conductor: text(say`conductor`, say`Size and kind of the conductor.`, { max: 60 }),
    tested_on: date(say`tested on`, say`The day it was tested.`),
    resistance_ohm: number(say`resistance`, say`Measured resistance.`, { unit: "ohm", max: 1_000_000 }),
    ...physical,
    ...provenance,
  },
});
