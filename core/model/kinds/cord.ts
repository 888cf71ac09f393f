import { say } from "../../words/say.ts";
import { choice, integer, number, reference, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";
import { CONNECTORS, FIBRE_CLASSES } from "../lists.ts";

export const cord = defineKind({
  name: "cord",
  one: say`cord`,
  many: say`cords`,
  group: "patching",
  help: say`Joins the fronts of two ports.`,
  address: null,
  key: ["a_port_id", "a_first", "b_port_id", "b_first", "tag"],
  unique: false,
  indices: [["a_port_id", "life", "b_port_id"], ["b_port_id", "life", "a_port_id"], ["tag"]],
  fields: {
    tag: text(say`tag`, say`The cord's number, if it has one.`, { max: 60 }),
    a_port_id: reference("port", say`from`, say`The port one end is plugged into; empty when it hangs loose.`),
    a_first: integer(say`first position at from`, say`The first position its fibres take there.`, {
      min: 1,
      max: 144,
      required: true,
    }),
    b_port_id: reference("port", say`to`, say`The port the other end is plugged into; empty when it hangs loose.`),
    b_first: integer(say`first position at to`, say`The first position its fibres take there.`, {
      min: 1,
      max: 144,
      required: true,
    }),
    fibres: integer(say`fibres`, say`How many fibres it has.`, { min: 1, max: 144, required: true }),
    map: choice(
      say`map`,
      say`How its fibres go: in order, each pair crossed, or in reverse order.`,
      { straight: say`straight`, crossed: say`pairs crossed`, reversed: say`reversed` },
      { required: true, initial: "straight" },
    ),
    length_m: number(say`length`, say`Length of the cord.`, { unit: "m", max: 10_000 }),
    a_connector: choice(say`plug at from`, say`The plug at that end.`, CONNECTORS),
    b_connector: choice(say`plug at to`, say`The plug at that end.`, CONNECTORS),
    fibre_class: choice(say`fibre class`, say`The class of its fibre.`, FIBRE_CLASSES),
    colour: text(say`colour`, say`Colour of its jacket.`, { max: 40 }),
    ...physical,
    ...provenance,
  },
});
