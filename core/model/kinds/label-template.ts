import { say } from "../../words/say.ts";
import { choice, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { LABEL_BLANK_NAMES, LABEL_CLASSES } from "../label-blanks.ts";

export const labelTemplate = defineKind({
  name: "label_template",
  one: "label template",
  many: "label templates",
  group: "plant",
  help: "What stands on the labels of one class of place: text with blanks that the record fills.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`A short name.`),
    place: choice(say`for`, say`What the label is on, and for a cable where.`, LABEL_CLASSES, { required: true }),
    text: text(
      say`wording`,
      say`Lines with blanks such as {tag}; the first line stands large. A part in < > is left out where the record lacks its blank.`,
      { max: 400, lines: true, required: true, blanks: LABEL_BLANK_NAMES },
    ),
    code: choice(say`code`, say`The machine-readable code beside the text; empty means a QR code.`, {
      qr: "QR code",
      data_matrix: "Data Matrix",
      none: "none",
    }),
    notes: provenance.notes,
  },
});
