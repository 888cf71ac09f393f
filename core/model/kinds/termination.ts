import { say } from "../../words/say.ts";
import { choice, date, integer, number, reference, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const termination = defineKind({
  name: "termination",
  one: say`termination`,
  many: say`terminations`,
  group: "patching",
  help: say`An end of glass on the back of a position.`,
  address: null,
  key: ["section_id", "side", "position_id"],
  unique: false,
  indices: [["section_id", "side", "life", "position_id"], ["position_id", "life", "section_id", "side"], ["tray_id"]],
  fields: {
    section_id: reference("section", say`strand section`, say`The glass.`, { required: true }),
    side: choice(say`side`, say`Which end of it.`, { A: say`A`, B: say`B` }, { required: true }),
    position_id: reference("position", say`position`, say`Where it lands.`, { required: true }),
    method: choice(say`how`, say`How it is terminated.`, {
      direct: say`connector on the strand's own buffer`,
      splice_on: say`splice-on connector`,
      pre_polished: say`pre-polished connector`,
      pigtail: say`pigtail spliced on`,
      furcation: say`furcation kit and connector`,
      pre_terminated: say`pre-terminated`,
    }),
    tray_id: reference("tray", say`splice tray`, say`Where the pigtail's splice is kept.`),
    place: integer(say`place`, say`Its place in that tray.`, { min: 1, max: 1000 }),
    loss_db: number(say`loss`, say`Loss of the joint.`, { unit: "db", min: -10, max: 60 }),
    loss_basis: choice(say`loss known by`, say`How the loss is known.`, {
      estimate: say`estimate`,
      one_way: say`measured one way`,
      both_ways: say`measured both ways`,
    }),
    made_on: date(say`made on`, say`The day it was made.`),
    made_by: text(say`made by`, say`Who made it.`, { max: 80 }),
    ...physical,
    ...provenance,
  },
});
