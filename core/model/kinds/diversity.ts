import { say } from "../../words/say.ts";
import { reference } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const diversity = defineKind({
  name: "diversity",
  one: say`declared diversity`,
  many: say`declared diversities`,
  group: "service",
  help: say`Two circuits that are meant to share no way.`,
  address: null,
  key: ["circuit_id", "other_id"],
  unique: true,
  ownedBy: ["circuit_id"],
  fields: {
    circuit_id: reference("circuit", say`circuit`, say`One circuit.`, { required: true }),
    other_id: reference("circuit", say`diverse from`, say`The other.`, { required: true }),
    ...provenance,
  },
});
