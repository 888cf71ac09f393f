/** Labels: written, seen, made anew. */
import { KIND_NAMES, type KindName, kindOf } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { field, KNOWN, known, record } from "../blanks.ts";

/** Things one can stick a label on. */
const LABELLED: readonly KindName[] = KIND_NAMES.filter(
  (kind) =>
    kindOf(kind).address !== null &&
    ["places", "ways", "cable", "glass", "patching", "service"].includes(kindOf(kind).group),
);

const subject = record(
  LABELLED,
  say`thing`,
  say`The thing the label is on: a cable, panel, port, closure, conduit and so on.`,
  {
    required: true,
    example: "F-012",
  },
);
const place = record("space", say`place`, say`The place, for a thing that is at several: a cable or a pathway.`, {
  example: "LIB/101",
});
const printed = field("label", "printed_on", {
  help: say`The day it was printed. Without it the text is only written down, to be printed, unless the label was seen.`,
});

export const write = defineAct("label.write", {
  title: say`Write a label`,
  sentence: say`Write a label for {subject} at {space}`,
  blanks: {
    subject,
    space: place,
    text: field("label", "text", { help: say`What it says; empty means the plant's own wording.` }),
    printed_on: printed,
    even_if_there: {
      as: "flag",
      label: say`add a second label`,
      help: say`Adds it although a label is on record there.`,
    },
    ...known,
  },
  more: [["text", "printed_on"], [...KNOWN], ["even_if_there"]],
  button: () => say`Write the label`,
});

export const writeDue = defineAct("label.write_due", {
  title: say`Write every label a cable needs`,
  sentence: say`Write every label that {cable} needs`,
  blanks: {
    cable: record("cable", say`cable`, say`The cable to label at its ends and where it can be reached.`, {
      required: true,
      example: "F-012",
    }),
    printed_on: printed,
    ...known,
  },
  more: [["printed_on"], [...KNOWN]],
  button: () => say`Write the labels`,
});

const target = { subject: { ...subject, required: true }, space: place } as const;

export const sight = defineAct("label.sight", {
  title: say`Note what was seen of a label`,
  sentence: say`The label of {subject} at {space} is {state}`,
  blanks: {
    ...target,
    state: field("label", "state", { required: true, help: say`What was seen.` }),
    text_read: field("label", "text_read"),
    seen_on: field("label", "seen_on"),
    seen_by: field("label", "seen_by"),
    visit: record("visit", say`visit`, say`The visit in which it was seen.`),
  },
  more: [["text_read"], ["seen_on", "seen_by", "visit"]],
  button: () => say`Note it`,
});

export const relabel = defineAct("label.relabel", {
  title: say`Replace a label`,
  sentence: say`Replace the label of {subject} at {space}`,
  blanks: {
    ...target,
    text: field("label", "text", { help: say`What it says now; empty means the plant's own wording.` }),
    printed_on: printed,
  },
  more: [["text", "printed_on"]],
  button: () => say`Make it anew`,
});
