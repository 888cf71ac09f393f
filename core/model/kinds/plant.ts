import { say } from "../../words/say.ts";
import { choice, shape, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const plant = defineKind({
  name: "plant",
  one: say`plant`,
  many: say`plant`,
  group: "plant",
  help: say`The file itself: whose plant this is, its units, how things are named and labelled.`,
  address: null,
  key: ["name"],
  unique: true,
  fields: {
    name: text(say`name`, say`What the campus is called.`, { required: true }),
    length_unit: choice(
      say`lengths in`,
      say`The unit people here read lengths in.`,
      { m: say`metres`, ft: say`feet` },
      { required: true, initial: "m" },
    ),
    colour_sequence: choice(
      say`usual colours`,
      say`The colour sequence offered first for a new cable.`,
      {
        tia_598: "TIA-598",
        iec_60304: "IEC 60304 / DIN",
        iec_60794_2: say`IEC 60794-2, older`,
        swiss: say`Swiss`,
        french: say`French`,
        brazilian: say`Brazilian (ABNT)`,
      },
      { required: true, initial: "tia_598" },
    ),
    label_due: choice(
      say`labels due`,
      say`Where a cable needs a label.`,
      { ends: say`at both ends`, access: say`at both ends and where it can be reached`, none: say`nowhere` },
      { required: true, initial: "access" },
    ),
    port_labels: choice(
      say`port labels`,
      say`Whether each landed port needs a label.`,
      { panel: say`one for the panel`, port: say`one for each port`, none: say`none` },
      { required: true, initial: "panel" },
    ),
    label_patterns: shape(
      "patterns",
      say`label wording`,
      say`For each kind, the text a label should carry, with {tag}, {from}, {to}, {strands} as blanks.`,
    ),
    old_label_patterns: shape(
      "patterns",
      say`old label wording`,
      say`Wordings that were right once; a label that follows one is advice, not an error.`,
    ),
    tag_patterns: shape(
      "patterns",
      say`tag wording`,
      say`For each kind, the pattern its tags follow, with # for a digit and @ for a letter.`,
    ),
    authority: text(say`authority`, say`Which local code and which authority apply.`, { max: 400, lines: true }),
    notes: provenance.notes,
  },
});
