/** Cables as built: entering one whole, opening it, recording a cut, its stops. */

import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import type { Blank } from "../act.ts";
import { defineAct } from "../act.ts";
import { field, record, THING, thing } from "../blanks.ts";
import { cable, HOLE, METAL, marksDisagree, stop, stopBlanks, wayBlanks } from "./cable-blanks.ts";

const strandsToCut: Blank = {
  as: "range",
  of: "strand",
  label: say`strands`,
  help: say`Strands to cut, by numbers or colours; leave it empty where all run on.`,
  example: say`25-36 or GR`,
};
const stubs = {
  stub_a: field("section", "a_stub"),
  stub_b: field("section", "b_stub"),
} as const;

export const enterCable = defineAct("cable.enter", {
  title: say`Enter a cable`,
  sentence: say`Enter cable {tag} of type {type}`,
  blanks: {
    tag: field("cable", "tag", { example: "F-012", required: true }),
    type: record("cable_type", say`type`, say`Its data sheet: units, strands and colours follow from it.`, {
      example: "LT-96",
    }),
    name: field("cable", "name"),
    stops: {
      as: "rows",
      one: say`stop`,
      keepsEmpty: true,
      label: say`stops`,
      help: say`Every place it stops, from one end to the other: both ends, holes it passes through, places where it is opened.`,
      columns: {
        space: record("space", say`space`, say`Where it is; leave it empty where nobody knows.`, {
          example: "LIB/101",
        }),
        kind: field("stop", "kind", { required: false }),
        mark_in: stopBlanks.mark_in,
        mark_out: stopBlanks.mark_out,
        slack_m: stopBlanks.slack_m,
        closure: stopBlanks.closure,
        metal: stopBlanks.metal,
        ...wayBlanks("way"),
      },
    },
    units: {
      as: "rows",
      one: say`group of units`,
      label: say`units`,
      help: say`What it holds, where that isn't as its type says or it has no type.`,
      columns: {
        kind: field("unit_type", "kind"),
        repeats: field("unit_type", "repeats"),
        strands: field("unit_type", "strands"),
        fibre_class: field("unit_type", "fibre_class"),
        coating_um: field("unit_type", "coating_um"),
      },
    },
    differs: {
      as: "overrides",
      label: say`differs from its type`,
      help: say`Fields of the type that this cable has otherwise.`,
    },
    colour_sequence: field("cable", "colour_sequence"),
    unit_colours: field("cable", "unit_colours", { list: true }),
    strand_colours: field("cable", "strand_colours", { list: true }),
    tubes_by_fibre: {
      as: "flag",
      label: say`tubes coloured by their fibre`,
      help: say`Central-European tubes: red, green, then all of the colour that tells the fibre.`,
    },
    run: field("cable", "run"),
    reel: field("cable", "reel"),
    mark_unit: field("cable", "mark_unit"),
    mark_breaks: {
      as: "rows",
      one: say`mark break`,
      label: say`mark breaks`,
      help: say`Where the printed marks jump, in order along the cable.`,
      columns: {
        at_mark: { as: "decimal", unit: "", label: say`at mark`, help: say`The mark before the jump.`, required: true },
        jumps_to: {
          as: "decimal",
          unit: "",
          label: say`jumps to`,
          help: say`The mark after the jump.`,
          required: true,
        },
      },
    },
    sheath: field("cable", "sheath"),
    installed_on: field("cable", "installed_on"),
    warranty_until: field("cable", "warranty_until"),
    warranty_conditions: field("cable", "warranty_conditions"),
    ...thing,
    even_if_marks_disagree: marksDisagree,
  },
  more: [
    ["stops"],
    ["mark_unit", "installed_on", "run", "reel", "name", "sheath"],
    ["mark_breaks"],
    ["colour_sequence", "unit_colours", "strand_colours", "tubes_by_fibre"],
    ["units"],
    ["differs"],
    ["warranty_until", "warranty_conditions"],
    [...THING],
    ["even_if_marks_disagree"],
  ],
  button: ({ tag, strands, stops }) => say`Enter ${tag}: ${counted(strands, "strand")}, ${counted(stops, "stop")}`,
  cautions: [METAL],
});

export const openCable = defineAct("cable.open", {
  title: say`Open a cable at a stop`,
  sentence: say`Open {cable} at {stop} and cut {cut}`,
  blanks: {
    cable,
    stop: stop(say`stop`, true),
    cut: strandsToCut,
    closure: stopBlanks.closure,
    mark_open_from: stopBlanks.mark_open_from,
    mark_open_to: stopBlanks.mark_open_to,
    ...stubs,
    even_if_marks_disagree: marksDisagree,
  },
  more: [["closure", "mark_open_from", "mark_open_to"], ["stub_a", "stub_b"], ["even_if_marks_disagree"]],
  button: ({ cut }) => (cut.length > 0 ? say`Open it and cut ${counted(cut.length, "strand")}` : say`Open it`),
  cautions: [
    ...HOLE,
    say`Treat every end as lit: this light cannot be seen. Measure that a strand is dark before you cut it.`,
  ],
});

export const severCable = defineAct("cable.sever", {
  title: say`Record that a cable was cut`,
  sentence: say`{cable} was cut after {after}`,
  blanks: {
    cable,
    after: stop(say`stop before the cut`, false),
    stop: {
      ...stop(say`cut at the stop`, false),
      help: say`The stop at which it was cut, where that is one of its stops.`,
    },
    cut: { ...strandsToCut, help: say`The strands that were cut; leave it empty for all of them.` },
    space: record("space", say`new stop at`, say`The place of the cut, where it becomes a stop.`),
    mark_open_from: stopBlanks.mark_open_from,
    mark_open_to: stopBlanks.mark_open_to,
    ...stubs,
    even_if_marks_disagree: marksDisagree,
  },
  more: [
    ["stop", "cut"],
    ["space", "mark_open_from", "mark_open_to"],
    ["stub_a", "stub_b"],
    ["even_if_marks_disagree"],
  ],
  button: ({ cut }) => say`Record the cut of ${counted(cut.length, "strand")}`,
  cautions: [
    ...HOLE,
    say`Treat every broken end as lit and sharp.`,
    say`A coordinate never replaces locating: ask before anybody digs, and mind traffic.`,
  ],
});

export const addStop = defineAct("cable.add_stop", {
  title: say`Add a stop to a cable`,
  sentence: say`{cable} also stops at {space}, after {after}`,
  blanks: {
    cable,
    space: record("space", say`space`, say`Where it is.`, { required: true, example: "MH-04" }),
    after: stop(say`stop before it`, true),
    kind: field("stop", "kind", { required: false }),
    ...stopBlanks,
    even_if_marks_disagree: marksDisagree,
  },
  more: [
    ["kind", "reachable", "closure"],
    ["mark_in", "mark_open_from", "mark_open_to", "mark_out", "marks_basis"],
    ["slack_m", "storage", "coil_diameter_mm"],
    ["metal", "metal_on"],
    ["even_if_marks_disagree"],
  ],
  button: () => say`Add the stop`,
  cautions: [METAL],
});

export const removeStop = defineAct("cable.remove_stop", {
  title: say`Take a stop out of a cable`,
  sentence: say`{cable} does not stop at {stop}`,
  blanks: { cable, stop: stop(say`stop`, true) },
  button: () => say`Take the stop out`,
});

export const replaceCable = defineAct("cable.replace", {
  title: say`Put a cable in the place of another`,
  sentence: say`{by} takes the place of {cable}`,
  blanks: {
    cable: { ...cable, help: say`The cable that is given up.` },
    by: record("cable", say`new cable`, say`The cable that takes its place, strand for strand.`, {
      required: true,
      example: "F-112",
    }),
    at: stop(say`only at`, false),
    strands: {
      as: "text",
      label: say`only strands`,
      help: say`Only these numbers; all where left out.`,
      example: "1-12,20",
    },
    onto: {
      as: "text",
      label: say`onto strands`,
      help: say`The strands of the new cable that take their place, in the same order; the same numbers where left out.`,
      example: "1-13",
    },
    loss_db: field("termination", "loss_db", {
      list: true,
      help: say`Loss of the new joints in decibels: one for all, or one a joint in the order of the strands.`,
    }),
    loss_basis: field("splice", "loss_basis"),
    method: field("splice", "method"),
    made_on: field("splice", "made_on"),
    made_by: field("splice", "made_by"),
  },
  more: [
    ["at", "strands", "onto"],
    ["loss_db", "loss_basis", "method"],
    ["made_on", "made_by"],
  ],
  button: ({ moved }) => say`Make ${counted(moved, "joint")} anew`,
  cautions: [say`Treat every end as lit: measure that a strand is dark before it is taken off.`, METAL],
});

export const replaceEnd = defineAct("cable.replace_end", {
  title: say`Land a cable in the place of another's end`,
  sentence: say`{cable} ends at {stop}: what lay {gone} it is taken out, and {by} is landed there`,
  blanks: {
    cable,
    stop: stop(say`stop`, true),
    gone: {
      as: "choice",
      label: say`before or after`,
      help: say`Which side of it is given up.`,
      values: { after: say`after`, before: say`before` },
      required: true,
    },
    by: record("cable", say`new cable`, say`The cable that is landed there in its place, strand for strand.`, {
      required: true,
      example: "F-112",
    }),
  },
  more: [],
  button: ({ moved }) => say`Move ${counted(moved, "joint")}`,
  cautions: [say`Treat every end as lit: measure that a strand is dark before it is taken off.`, METAL],
});

export const deadLength = defineAct("cable.dead_length", {
  title: say`Record dead sheath that was cut off`,
  sentence: say`Dead sheath {tag}, cut off {cable}, was {became}`,
  blanks: {
    tag: field("cable", "tag", { example: "F-012-D1", required: true }),
    cable: { ...cable, label: say`cable`, help: say`The cable it was cut off.` },
    became: {
      as: "choice",
      label: say`what became of it`,
      help: say`Left where it lies, for it can't be drawn out and takes room there; or pulled out.`,
      values: { left: say`left where it lies`, pulled_out: say`pulled out` },
      required: true,
    },
    stops: {
      as: "rows",
      one: say`stop`,
      keepsEmpty: true,
      label: say`where it lies`,
      help: say`From one end to the other; an end inside a way has no space. Leave it out for a length that is on record.`,
      columns: {
        space: record("space", say`space`, say`Where it is; empty for an end inside a way.`, { example: "MH-03" }),
        kind: field("stop", "kind", { required: false }),
        mark_in: stopBlanks.mark_in,
        mark_out: stopBlanks.mark_out,
        ...wayBlanks("way"),
      },
    },
  },
  more: [["stops"]],
  button: ({ tag }) => say`Record ${tag}`,
  cautions: [say`Draw out only what is proven dead by measuring.`],
});

export const carryCable = defineAct("cable.carry", {
  title: say`Give a piece the circuits of the cable it mends`,
  sentence: say`{by} carries on what runs on {cable}`,
  blanks: {
    cable,
    by: record("cable", say`piece`, say`The piece between its two parts, strand for strand.`, {
      required: true,
      example: "F-112",
    }),
    strands: {
      as: "text",
      label: say`only strands`,
      help: say`Only these numbers; all where left out.`,
      example: "1-12,20",
    },
  },
  more: [["strands"]],
  button: ({ circuits }) => say`Give it ${counted(circuits, "circuit")}`,
});

export const dividePathway = defineAct("pathway.divide", {
  title: say`Divide a pathway at a hole`,
  sentence: say`{pathway} is divided at {at}; beyond it is {tag}`,
  blanks: {
    pathway: record("pathway", say`pathway`, say`The pathway.`, { required: true, example: "DB-04" }),
    at: record("space", say`hole`, say`The place set into it.`, { required: true, example: "HH-21" }),
    tag: {
      as: "text",
      label: say`number`,
      help: say`The number of the part beyond.`,
      required: true,
      example: "DB-04b",
    },
    from_m: { as: "decimal", unit: "", label: say`metres from its from end`, help: say`How far along the place is.` },
  },
  more: [["from_m"]],
  button: ({ near, far }) => say`Divide it into ${near} and ${far}`,
});
