import { say } from "../../words/say.ts";
import { choice, date, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const party = defineKind({
  name: "party",
  one: say`party`,
  many: say`parties`,
  group: "work",
  help: say`An owner, tenant, carrier, contractor or authority.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`A short name.`),
    name: text(say`name`, say`The full name.`),
    role: choice(say`role`, say`What they are to the plant.`, {
      self: say`the plant's own`,
      owner: say`owner`,
      tenant: say`tenant`,
      carrier: say`carrier`,
      contractor: say`contractor`,
      authority: say`authority`,
      other: say`other`,
    }),
    contact_day: text(say`by day`, say`How to reach them by day.`, { max: 200 }),
    contact_night: text(say`by night`, say`How to reach them by night.`, { max: 200 }),
    agreement: text(say`agreement`, say`The agreement's number.`, { max: 120 }),
    until_on: date(say`until`, say`The day the agreement ends.`),
    ...provenance,
  },
});
