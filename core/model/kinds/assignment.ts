import { say } from "../../words/say.ts";
import { choice, date, integer, reference, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const assignment = defineKind({
  name: "assignment",
  one: say`assignment`,
  many: say`assignments`,
  group: "service",
  help: say`A strand section given to a circuit.`,
  address: null,
  key: ["circuit_id", "section_id", "role", "band", "from_on"],
  unique: false,
  indices: [["section_id"], ["circuit_id", "ordinal"]],
  ownedBy: ["circuit_id"],
  fields: {
    circuit_id: reference("circuit", say`circuit`, say`The circuit.`, { required: true }),
    section_id: reference("section", say`strand section`, say`The glass it is given.`, { required: true }),
    ordinal: integer(say`order`, say`Its order from A to Z.`, { min: 1, max: 100_000 }),
    role: choice(
      say`role`,
      say`What it carries, seen from A.`,
      { transmit: say`transmit`, receive: say`receive`, both: say`both ways` },
      { required: true, initial: "both" },
    ),
    band: text(say`band`, say`Wavelengths in nanometres, such as 1310 or 1530-1565; empty for the whole strand.`, {
      max: 60,
    }),
    from_on: date(say`from`, say`The first day.`),
    until_on: date(say`until`, say`The day after the last.`),
    ...provenance,
  },
});
