import { choice, integer, number, reference, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";
import { CONNECTORS, FIBRE_CLASSES } from "../lists.ts";

export const cord = defineKind({
  name: "cord",
  one: "cord",
  many: "cords",
  group: "patching",
  help: "Joins the fronts of two ports.",
  address: null,
  key: ["a_port_id", "a_first", "b_port_id", "b_first", "tag"],
  unique: false,
  indices: [["a_port_id", "life", "b_port_id"], ["b_port_id", "life", "a_port_id"], ["tag"]],
  fields: {
    tag: text("tag", "The cord's number, if it has one.", { max: 60 }),
    a_port_id: reference("port", "from", "The port one end is plugged into; empty when it hangs loose."),
    a_first: integer("first position at from", "The first position its fibres take there.", {
      min: 1,
      max: 144,
      required: true,
    }),
    b_port_id: reference("port", "to", "The port the other end is plugged into; empty when it hangs loose."),
    b_first: integer("first position at to", "The first position its fibres take there.", {
      min: 1,
      max: 144,
      required: true,
    }),
    fibres: integer("fibres", "How many fibres it has.", { min: 1, max: 144, required: true }),
    map: choice(
      "map",
      "How its fibres go: in order, each pair crossed, or in reverse order.",
      { straight: "straight", crossed: "pairs crossed", reversed: "reversed" },
      { required: true, initial: "straight" },
    ),
    length_m: number("length", "Length of the cord.", { unit: "m", max: 10_000 }),
    a_connector: choice("plug at from", "The plug at that end.", CONNECTORS),
    b_connector: choice("plug at to", "The plug at that end.", CONNECTORS),
    fibre_class: choice("fibre class", "The class of its fibre.", FIBRE_CLASSES),
    colour: text("colour", "Colour of its jacket.", { max: 40 }),
    ...physical,
    ...provenance,
  },
});
