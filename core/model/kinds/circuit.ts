import { say } from "../../words/say.ts";
import { choice, date, integer, reference, tag, text } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const circuit = defineKind({
  name: "circuit",
  one: say`circuit`,
  many: say`circuits`,
  group: "service",
  help: say`A service that needs continuous glass from A to Z.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  indices: [["a_port_id"], ["z_port_id"]],
  fields: {
    tag: tag(say`The circuit's number.`),
    name: text(say`name`, say`What it serves.`),
    application: text(say`application`, say`What runs on it, such as 10GBASE-LR.`, { max: 60 }),
    strands: integer(say`strands`, say`How many strands it needs.`, { min: 1, max: 1000 }),
    owner_id: reference("party", say`owner`, say`Whose service it is; empty means the plant's own.`),
    priority: integer(say`priority`, say`1 is put back first.`, { min: 1, max: 9 }),
    state: choice(
      say`state`,
      say`Where the service stands.`,
      { planned: say`planned`, reserved: say`reserved`, in_service: say`in service`, retired: say`retired` },
      { required: true, initial: "planned" },
    ),
    state_since: date(say`since`, say`The day this state began.`),
    reserved_until: date(say`reserved until`, say`The day a reservation ends.`),
    a_port_id: reference("port", say`A port`, say`The port at the A end.`),
    z_port_id: reference("port", say`Z port`, say`The port at the Z end.`),
    a_party_id: reference("party", say`A handed over to`, say`The party it is handed over to at A.`),
    z_party_id: reference("party", say`Z handed over to`, say`The party it is handed over to at Z.`),
    a_reference: text(say`A reference`, say`Their reference at A.`, { max: 80 }),
    z_reference: text(say`Z reference`, say`Their reference at Z.`, { max: 80 }),
    rides_on_id: reference("circuit", say`rides on`, say`The circuit whose glass it shares by design.`),
    job_id: reference("job", say`job`, say`The job that plans it.`),
    ...provenance,
  },
});
