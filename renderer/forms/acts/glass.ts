/** Glass joined for good: landing, splicing, closing and reopening. */

import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { evenIfElsewhere, evenIfTaken, field, KNOWN, known, ports, record, side, strands } from "../blanks.ts";

/** Whoever opens glass works with light that can't be seen and shards that can't be felt. */
const GLASS_CAUTIONS = [
  say`Treat every end as lit: this light cannot be seen. Measure that a strand is dark before you cleave it.`,
  say`Keep eyes shielded and shards in a closed bin; the maker's sheet and a trained person say how.`,
];

const made = {
  made_on: field("splice", "made_on"),
  made_by: field("splice", "made_by"),
} as const;

const spliceBlanks = {
  first_place: {
    as: "whole",
    min: 1,
    max: 1000,
    label: say`first place`,
    help: say`Place of the first splice in the tray; the others follow in order.`,
  },
  method: field("splice", "method"),
  form: field("splice", "form"),
  ribbon: {
    as: "whole",
    min: 2,
    max: 36,
    label: say`strands at once`,
    help: say`Strands spliced at once, where ribbons are: each ribbon takes one place of the tray.`,
  },
  loss_ab_db: field("splice", "loss_ab_db", {
    list: true,
    help: say`Loss from the first to the second in decibels: one for all, or one a splice with commas between.`,
  }),
  loss_ba_db: field("splice", "loss_ba_db", {
    list: true,
    help: say`Loss from the second to the first in decibels: one for all, or one a splice with commas between.`,
  }),
  loss_basis: field("splice", "loss_basis"),
  ...made,
} as const;

const SPLICE = [
  ["method", "form", "ribbon", "first_place"],
  ["loss_ab_db", "loss_ba_db", "loss_basis"],
  ["made_on", "made_by"],
] as const;

export const land = defineAct("strand.land", {
  title: say`Land strands on ports`,
  sentence: say`Land {strands} on {ports}`,
  blanks: {
    strands: strands(
      say`strands`,
      say`Strands in the order in which they land; colours work too, such as F-012 BL-OR.`,
    ),
    ports: ports("ports", say`Ports in order; a duplex port takes two strands, A then B.`),
    method: field("termination", "method"),
    end: side,
    tray: record("tray", say`splice tray`, say`The splice tray of the pigtails.`),
    place: field("termination", "place"),
    loss_db: field("termination", "loss_db"),
    loss_basis: field("termination", "loss_basis"),
    made_on: field("termination", "made_on"),
    made_by: field("termination", "made_by"),
    even_if_taken: evenIfTaken,
    even_if_elsewhere: evenIfElsewhere,
    ...known,
  },
  more: [
    ["method", "tray", "place", "end"],
    ["loss_db", "loss_basis", "made_on", "made_by"],
    [...KNOWN],
    ["even_if_taken", "even_if_elsewhere"],
  ],
  button: ({ landed }) => say`Land ${counted(landed, "strand")}`,
  cautions: GLASS_CAUTIONS,
});

export const splice = defineAct("splice.range", {
  title: say`Splice a range to a range`,
  sentence: say`Splice {from} to {to} in {tray}`,
  blanks: {
    from: strands(say`strands`, say`Strands in order.`, { example: "F-014:25-36" }),
    to: strands(say`other strands`, say`As many strands in order.`, { example: "F-021:1-12" }),
    tray: record("tray", say`splice tray`, say`The tray they are kept in; leave it empty where nobody knows.`, {
      example: "MH-03/CL-1/T2",
    }),
    at: record("space", say`space`, say`The space, where nobody knows the tray.`),
    from_end: { ...side, label: say`end of the first` },
    to_end: { ...side, label: say`end of the second` },
    from_stop: record(
      "stop",
      say`stop of the first`,
      say`Where its cable stops twice in one place: at which of its stops.`,
      {
        example: "F-014@3",
      },
    ),
    to_stop: record("stop", say`stop of the second`, say`The same of the second.`, { example: "F-021@1" }),
    ...spliceBlanks,
    even_if_taken: evenIfTaken,
    even_if_elsewhere: evenIfElsewhere,
    ...known,
  },
  more: [
    ["at", "from_end", "to_end"],
    ["from_stop", "to_stop"],
    ...SPLICE,
    [...KNOWN],
    ["even_if_taken", "even_if_elsewhere"],
  ],
  button: ({ spliced }) => say`Make ${counted(spliced, "splice")}`,
  cautions: GLASS_CAUTIONS,
});

export const close = defineAct("splice.close", {
  title: say`Close cut strands again`,
  sentence: say`Close {strands} again at {stop}`,
  blanks: {
    strands: strands(say`strands`, say`The cut strands whose halves are spliced through.`, { example: "F-012:25-36" }),
    stop: record("stop", say`stop`, say`The stop of the cable where they are cut.`, {
      required: true,
      example: "F-012@3",
    }),
    tray: record("tray", say`splice tray`, say`The splice tray.`),
    ...spliceBlanks,
    even_if_taken: evenIfTaken,
    ...known,
  },
  more: [["tray"], ...SPLICE, [...KNOWN], ["even_if_taken"]],
  button: ({ spliced }) => say`Close ${counted(spliced, "strand")}`,
  cautions: GLASS_CAUTIONS,
});

export const reopen = defineAct("splice.reopen", {
  title: say`Reopen closed strands`,
  sentence: say`Reopen {strands} at {stop}`,
  blanks: {
    strands: strands(say`strands`, say`The strands whose splices are taken out.`, { example: "F-012:25-36" }),
    stop: record("stop", say`stop`, say`The stop of the cable where they are spliced through.`, {
      required: true,
      example: "F-012@3",
    }),
  },
  button: ({ reopened }) => say`Reopen ${counted(reopened, "strand")}`,
  cautions: GLASS_CAUTIONS,
});

export const swap = defineAct("splice.swap", {
  title: say`Swap two ranges at a case`,
  sentence: say`Swap {one} and {other} at {at}`,
  blanks: {
    one: strands(say`strands`, say`Strands in order.`, { example: "F-012:25-36" }),
    other: strands(say`other strands`, say`As many strands in order.`, { example: "F-012:37-48" }),
    at: record(["closure", "space"], say`case or place`, say`The case or place where they are spliced.`, {
      required: true,
      example: "MH-07/CL-1",
    }),
    one_end: { ...side, label: say`end of the first` },
    other_end: { ...side, label: say`end of the second` },
    ...known,
  },
  more: [["one_end", "other_end"], [...KNOWN]],
  button: ({ swapped }) => say`Swap ${counted(swapped, "strand")}`,
  cautions: GLASS_CAUTIONS,
});
