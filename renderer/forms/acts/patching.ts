/** Cords, and what was seen in front of ports. */

import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { evenIfTaken, field, ports, record, THING, thing } from "../blanks.ts";

const LIGHT = [say`Treat every end as lit: this light cannot be seen. Cap what you unplug.`];

export const patch = defineAct("cord.patch", {
  title: say`Patch a cord`,
  sentence: say`Plug a cord from {from} into {to}`,
  blanks: {
    from: record("port", say`port`, say`The port one end is plugged into; #3 begins at position 3.`, {
      required: true,
      example: "LIB/101/A:07",
    }),
    to: record("port", say`other port`, say`The port the other end is plugged into.`, {
      required: true,
      example: "LIB/101/SW-1:1",
    }),
    fibres: {
      as: "whole",
      min: 1,
      max: 144,
      label: say`fibres`,
      help: say`How many fibres it has; needed where the ports don't agree.`,
    },
    map: field("cord", "map"),
    tag: field("cord", "tag", { required: false }),
    length_m: field("cord", "length_m"),
    from_connector: field("cord", "a_connector"),
    to_connector: field("cord", "b_connector"),
    fibre_class: field("cord", "fibre_class"),
    colour: field("cord", "colour"),
    even_if_taken: evenIfTaken,
    ...thing,
  },
  more: [
    ["tag", "length_m", "fibres", "map"],
    ["from_connector", "to_connector", "fibre_class", "colour"],
    [...THING],
    ["even_if_taken"],
  ],
  button: () => say`Plug it in`,
  cautions: LIGHT,
});

export const unplug = defineAct("cord.unplug", {
  title: say`Unplug cords`,
  sentence: say`Unplug {cords}`,
  blanks: {
    cords: {
      as: "text",
      list: true,
      required: true,
      label: say`cords`,
      help: say`The cords: their tags, or ports they are plugged into, with commas between.`,
      example: "C-118, LIB/101/A:07",
    },
    at: record("port", say`only at`, say`The port where one end is pulled; the cord stays plugged at its other end.`),
  },
  more: [["at"]],
  button: () => "Unplug",
  cautions: LIGHT,
});

export const sightFront = defineAct("port.sight_front", {
  title: say`Note what is in front of ports`,
  sentence: say`In front of {ports} was seen {front}`,
  blanks: {
    ports: ports("ports", say`The ports looked at.`, { example: "LIB/101/A:01-24" }),
    front: {
      as: "choice",
      required: true,
      values: { empty: say`nothing`, cord: say`a cord`, not_looked_at: say`nobody looked` },
      label: say`what was seen`,
      help: say`What was seen in front of each.`,
    },
    visit: record("visit", say`visit`, say`The visit in which it was seen.`),
  },
  more: [["visit"]],
  button: () => say`Note it`,
  cautions: [say`Look with covers, never into a port: this light cannot be seen.`],
});
