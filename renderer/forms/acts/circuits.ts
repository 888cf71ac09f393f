/** Circuits: entered, given glass, and their glass given back. */

import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { defineAct } from "../act.ts";
import { evenIfTaken, field, KNOWN, known, record, strands } from "../blanks.ts";

const port = (which: string) => record("port", say`port at ${which}`, say`The port at the ${which} end.`);
const party = (which: string) =>
  record("party", say`handed over at ${which} to`, say`The party it is handed over to at ${which}.`);
const circuit = record("circuit", say`circuit`, say`The circuit, by its number.`, { required: true, example: "K-088" });

export const enterCircuit = defineAct("circuit.enter", {
  title: say`Enter a circuit`,
  sentence: say`Enter circuit {tag} from {a_port} to {z_port}`,
  blanks: {
    tag: field("circuit", "tag", { example: "K-088", required: true }),
    a_port: port("A"),
    z_port: port("Z"),
    name: field("circuit", "name"),
    application: field("circuit", "application"),
    strands: field("circuit", "strands"),
    owner: record("party", say`owner`, say`Whose service it is; empty means the plant's own.`),
    priority: field("circuit", "priority"),
    state: field("circuit", "state", { required: false }),
    state_since: field("circuit", "state_since"),
    reserved_until: field("circuit", "reserved_until"),
    a_party: party("A"),
    z_party: party("Z"),
    a_reference: field("circuit", "a_reference"),
    z_reference: field("circuit", "z_reference"),
    rides_on: record("circuit", say`rides on`, say`The circuit whose glass it shares by design.`),
    diverse_from: {
      as: "text",
      list: true,
      label: say`diverse from`,
      help: say`Circuits it is meant to share no way with, with commas between.`,
      example: "K-089",
    },
    ...known,
  },
  more: [
    ["name", "application", "strands", "priority"],
    ["state", "state_since", "reserved_until", "owner"],
    ["a_party", "a_reference", "z_party", "z_reference"],
    ["rides_on", "diverse_from"],
    [...KNOWN],
  ],
  button: ({ tag }) => say`Enter circuit ${tag}`,
});

export const assign = defineAct("circuit.assign", {
  title: say`Give a circuit its glass`,
  sentence: say`Give {circuit} the line through {what}`,
  blanks: {
    circuit,
    what: {
      as: "text",
      list: true,
      required: true,
      label: say`what lies on the line`,
      help: say`A strand, port or position on the way from A to Z. One will do where the record joins all of it; several, in order and with commas between, where not.`,
      example: "F-012:25",
    },
    from_on: field("assignment", "from_on"),
    until_on: field("assignment", "until_on"),
    band: field("assignment", "band"),
    even_if_taken: evenIfTaken,
    ...known,
  },
  more: [["from_on", "until_on", "band"], [...KNOWN], ["even_if_taken"]],
  button: ({ sections }) => say`Assign ${counted(sections, "section")}`,
});

export const release = defineAct("circuit.release", {
  title: say`Give a circuit's glass back`,
  sentence: say`Take the glass of {circuit} back`,
  blanks: {
    circuit,
    strands: strands(say`only strands`, say`Only these strands of it.`, { required: false, example: "F-012:25-26" }),
    retire: { as: "flag", label: say`also retire the circuit`, help: say`Only with all of its glass.` },
  },
  more: [["strands"], ["retire"]],
  button: () => say`Give it back`,
});

const PLACES = ["building", "space", "panel", "port"] as const;

export const planWay = defineAct("free_pair.plan", {
  title: say`Plan a way of free strands`,
  sentence: say`Plan {strands} free strands from {from} to {to} for circuit {circuit}`,
  blanks: {
    strands: {
      as: "whole",
      min: 1,
      max: 144,
      label: say`how many`,
      help: say`How many strands.`,
      required: true,
      example: "2",
    },
    from: record(PLACES, say`place`, say`A building, room, panel or port.`, { required: true, example: "LIB" }),
    to: record(PLACES, say`other place`, say`The same for the other end.`, { required: true, example: "SCI" }),
    circuit: { as: "text", label: say`number`, help: say`The new circuit's number.`, required: true, example: "K-120" },
    way: {
      as: "whole",
      min: 1,
      max: 50,
      label: say`way`,
      help: say`Which of the ways found, the best being 1.`,
    },
    application: { as: "text", label: say`application`, help: say`What is to run on it.`, example: "10GBASE-LR" },
    avoid: record("circuit", say`away from`, say`A circuit whose cables, pipes and pathways are kept away from.`),
    name: { as: "text", label: say`name`, help: say`What it serves.` },
    job: {
      as: "text",
      label: say`job`,
      help: say`The new job's number; left out, no job is planned.`,
      example: "J-14",
    },
    most: { as: "whole", min: 1, max: 50, label: say`among`, help: say`How many ways are looked for.` },
  },
  more: [["way", "most", "avoid"], ["application", "name"], ["job"]],
  button: () => say`Plan it`,
  cautions: [say`Free is what the record says: look at both ends, and measure the strands, before you promise them.`],
});
