import { say } from "../../words/say.ts";
import { choice, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";
import { LABEL_BLANK_NAMES, LABEL_CLASSES } from "../label-blanks.ts";

export const labelTemplate = defineKind({
  name: "label_template",
  one: say`label template`,
  many: say`label templates`,
  group: "plant",
  help: say`What stands on the labels of one class of place: text with blanks that the record fills.`,
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
      qr: say`QR code`,
      data_matrix: say`Data Matrix`,
      none: say`none`,
    }),
    notes: provenance.notes,
  },
});
