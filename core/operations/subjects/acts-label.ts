/** Labels: written, seen, made anew. */
import { labelSightInput, planLabelSight } from "../../act/label-sight.ts";
import {
  labelRelabelInput,
  labelWriteDueInput,
  labelWriteInput,
  planLabelRelabel,
  planLabelWrite,
  planLabelWriteDue,
} from "../../act/label-write.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

export const labelWrite = defineWrite({
  name: "label.write",
  help: say`Writes a label for a thing at a place, with the plant's wording unless a text is given. It is to be printed, unless a day says that it was or it was seen.`,
  input: labelWriteInput,
  plan: planLabelWrite,
});

export const labelWriteDue = defineWrite({
  name: "label.write_due",
  help: say`Writes every label a cable needs: at its ends and where it can be reached.`,
  input: labelWriteDueInput,
  plan: planLabelWriteDue,
});

export const labelSight = defineWrite({
  name: "label.sight",
  help: say`Notes what was seen of labels: there, missing, unreadable or wrong, and what was read.`,
  input: labelSightInput,
  plan: planLabelSight,
});

export const labelRelabel = defineWrite({
  name: "label.relabel",
  help: say`Replaces labels: a new text, not seen yet, nothing due.`,
  input: labelRelabelInput,
  plan: planLabelRelabel,
});
