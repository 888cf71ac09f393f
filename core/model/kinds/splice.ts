import { say } from "../../words/say.ts";
import { choice, date, integer, number, reference, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const splice = defineKind({
  name: "splice",
  one: say`splice`,
  many: say`splices`,
  group: "glass",
  help: say`Two ends of glass joined for good.`,
  address: null,
  key: ["a_section_id", "a_side", "b_section_id", "b_side"],
  unique: false,
  indices: [
    ["a_section_id", "a_side", "life", "b_section_id", "b_side"],
    ["b_section_id", "b_side", "life", "a_section_id", "a_side"],
    ["tray_id", "place"],
  ],
  fields: {
    tray_id: reference("tray", say`splice tray`, say`The tray it is kept in; empty where nobody knows.`),
    place: integer(say`place`, say`Its place in the tray, from 1.`, { min: 1, max: 1000 }),
    a_section_id: reference("section", say`end A`, say`The strand section on one side.`, { required: true }),
    a_side: choice(say`end A side`, say`Which end of that section.`, { A: say`A`, B: say`B` }, { required: true }),
    b_section_id: reference("section", say`end B`, say`The strand section on the other side.`, { required: true }),
    b_side: choice(say`end B side`, say`Which end of that section.`, { A: say`A`, B: say`B` }, { required: true }),
    method: choice(say`method`, say`How it was made.`, { fusion: say`fusion`, mechanical: say`mechanical` }),
    form: choice(say`form`, say`One strand or a whole ribbon at once.`, { single: say`single`, ribbon: say`ribbon` }),
    loss_ab_db: number(say`loss A to B`, say`Loss from A to B; may be negative (a gainer).`, {
      unit: "db",
      min: -10,
      max: 60,
    }),
    loss_ba_db: number(say`loss B to A`, say`Loss from B to A; may be negative (a gainer).`, {
      unit: "db",
      min: -10,
      max: 60,
    }),
    loss_basis: choice(say`loss known by`, say`How the loss is known.`, {
      estimate: say`splicer's estimate`,
      one_way: say`measured one way`,
      both_ways: say`measured both ways`,
    }),
    made_on: date(say`made on`, say`The day it was made.`),
    made_by: text(say`made by`, say`Who made it.`, { max: 80 }),
    ...physical,
    ...provenance,
  },
});
