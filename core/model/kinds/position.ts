import { say } from "../../words/say.ts";
import { integer, reference } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const position = defineKind({
  name: "position",
  one: say`position`,
  many: say`positions`,
  group: "patching",
  help: say`One fibre place of a port: 1 of a simplex port, A and B of a duplex, 8 to 24 of an array.`,
  address: { parents: ["port_id"], separator: "#", name: "ordinal" },
  key: ["port_id", "ordinal"],
  unique: true,
  ownedBy: ["port_id"],
  fields: {
    port_id: reference("port", say`port`, say`The port.`, { required: true }),
    ordinal: integer(say`order`, say`Its order in the port; 1 and 2 of a duplex port are A and B.`, {
      min: 1,
      max: 144,
      required: true,
    }),
    notes: provenance.notes,
  },
});
