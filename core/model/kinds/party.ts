import { choice, date, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const party = defineKind({
  name: "party",
  one: "party",
  many: "parties",
  group: "work",
  help: "An owner, tenant, carrier, contractor or authority.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag("A short name."),
    name: text("name", "The full name."),
    role: choice("role", "What they are to the plant.", {
      self: "the plant's own",
      owner: "owner",
      tenant: "tenant",
      carrier: "carrier",
      contractor: "contractor",
      authority: "authority",
      other: "other",
    }),
    contact_day: text("by day", "How to reach them by day.", { max: 200 }),
    contact_night: text("by night", "How to reach them by night.", { max: 200 }),
    agreement: text("agreement", "The agreement's number.", { max: 120 }),
    until_on: date("until", "The day the agreement ends."),
    ...provenance,
  },
});
