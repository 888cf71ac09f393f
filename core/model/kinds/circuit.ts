import { choice, date, integer, reference, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const circuit = defineKind({
  name: "circuit",
  one: "circuit",
  many: "circuits",
  group: "service",
  help: "A service that needs continuous glass from A to Z.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  indices: [["a_port_id"], ["z_port_id"]],
  fields: {
    tag: tag("The circuit's number."),
    name: text("name", "What it serves."),
    application: text("application", "What runs on it, such as 10GBASE-LR.", { max: 60 }),
    strands: integer("strands", "How many strands it needs.", { min: 1, max: 1000 }),
    owner_id: reference("party", "owner", "Whose service it is; empty means the plant's own."),
    priority: integer("priority", "1 is put back first.", { min: 1, max: 9 }),
    state: choice(
      "state",
      "Where the service stands.",
      { planned: "planned", reserved: "reserved", in_service: "in service", retired: "retired" },
      { required: true, initial: "planned" },
    ),
    state_since: date("since", "The day this state began."),
    reserved_until: date("reserved until", "The day a reservation ends."),
    a_port_id: reference("port", "A port", "The port at the A end."),
    z_port_id: reference("port", "Z port", "The port at the Z end."),
    a_party_id: reference("party", "A handed over to", "The party it is handed over to at A."),
    z_party_id: reference("party", "Z handed over to", "The party it is handed over to at Z."),
    a_reference: text("A reference", "Their reference at A.", { max: 80 }),
    z_reference: text("Z reference", "Their reference at Z.", { max: 80 }),
    rides_on_id: reference("circuit", "rides on", "The circuit whose glass it shares by design."),
    job_id: reference("job", "job", "The job that plans it."),
    ...provenance,
  },
});
