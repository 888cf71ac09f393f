import { say } from "../../words/say.ts";
import { choice, number, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const limitValue = defineKind({
  name: "limit_value",
  one: say`limit`,
  many: say`limits and policies`,
  group: "plant",
  help: say`A standard's or the plant's own value, with where it comes from.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`What the value is for, such as slack.keep.hand_hole.`),
    meaning: text(say`meaning`, say`What it means, in words.`, { max: 400 }),
    // No limit and no policy is below zero: losses, lengths, shares and counts; powers in dBm belong to interfaces.
    value: number(say`value`, say`The value in use.`, { unit: "none", unit_in: "unit", max: 1_000_000_000 }),
    unit: text(say`unit`, say`The unit of the value.`, { max: 20 }),
    published: number(say`published value`, say`The value the source gives, where the plant overrides it.`, {
      unit: "none",
      unit_in: "unit",
      max: 1_000_000_000,
    }),
    edition: text(say`edition`, say`Edition of the source.`, { max: 80 }),
    source: text(say`source`, say`Where the value comes from.`, { max: 400 }),
    how_known: choice(say`how known`, say`How far it can be trusted.`, {
      read: say`read in the source`,
      second_hand: say`second-hand`,
      weak: say`weak source`,
      derived: say`worked out`,
      memory: say`from memory`,
      policy: say`the plant's own policy`,
    }),
    reason: text(say`reason`, say`Why the plant uses another value.`, { max: 400 }),
    notes: provenance.notes,
  },
});
