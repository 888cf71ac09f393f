import { choice, date, integer, number, reference, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const splice = defineKind({
  name: "splice",
  one: "splice",
  many: "splices",
  group: "glass",
  help: "Two ends of glass joined for good.",
  address: null,
  key: ["a_section_id", "a_side", "b_section_id", "b_side"],
  unique: false,
  indices: [
    ["a_section_id", "a_side", "life", "b_section_id", "b_side"],
    ["b_section_id", "b_side", "life", "a_section_id", "a_side"],
    ["tray_id", "place"],
  ],
  fields: {
    tray_id: reference("tray", "splice tray", "The tray it is kept in; empty where nobody knows."),
    place: integer("place", "Its place in the tray, from 1.", { min: 1, max: 1000 }),
    a_section_id: reference("section", "end A", "The strand section on one side.", { required: true }),
    a_side: choice("end A side", "Which end of that section.", { A: "A", B: "B" }, { required: true }),
    b_section_id: reference("section", "end B", "The strand section on the other side.", { required: true }),
    b_side: choice("end B side", "Which end of that section.", { A: "A", B: "B" }, { required: true }),
    method: choice("method", "How it was made.", { fusion: "fusion", mechanical: "mechanical" }),
    form: choice("form", "One strand or a whole ribbon at once.", { single: "single", ribbon: "ribbon" }),
    loss_ab_db: number("loss A to B", "Loss from A to B; may be negative (a gainer).", {
      unit: "db",
      min: -10,
      max: 60,
    }),
    loss_ba_db: number("loss B to A", "Loss from B to A; may be negative (a gainer).", {
      unit: "db",
      min: -10,
      max: 60,
    }),
    loss_basis: choice("loss known by", "How the loss is known.", {
      estimate: "splicer's estimate",
      one_way: "measured one way",
      both_ways: "measured both ways",
    }),
    made_on: date("made on", "The day it was made."),
    made_by: text("made by", "Who made it.", { max: 80 }),
    ...physical,
    ...provenance,
  },
});
