import { say } from "../../words/say.ts";
import { choice, date, integer, number, reference, yesNo } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const stop = defineKind({
  name: "stop",
  one: say`stop`,
  many: say`stops`,
  group: "cable",
  help: say`A place of a cable, in order along it: both ends, every place it passes through or is opened.`,
  address: { parents: ["cable_id"], separator: "@", name: "ordinal" },
  key: ["cable_id", "ordinal"],
  unique: true,
  indices: [["space_id"], ["closure_id"]],
  ownedBy: ["cable_id"],
  fields: {
    cable_id: reference("cable", say`cable`, say`The cable.`, { required: true }),
    ordinal: integer(say`order`, say`Its order along the cable, from 1.`, { min: 1, max: 10_000, required: true }),
    space_id: reference("space", say`space`, say`Where it is; empty where nobody knows.`),
    kind: choice(
      say`kind`,
      say`What the cable does here.`,
      { end: say`ends`, passing: say`passes`, opened: say`opened`, severed: say`severed` },
      { required: true, initial: "passing" },
    ),
    reachable: yesNo(say`reachable`, say`Whether the cable can be touched here.`),
    mark_in: number(say`mark in`, say`Sheath mark at the mouth where it comes in.`, { unit: "mark", max: 10_000_000 }),
    mark_open_from: number(say`opening from`, say`Sheath mark at the near edge of the opening or cut.`, {
      unit: "mark",
      max: 10_000_000,
    }),
    mark_open_to: number(say`opening to`, say`Sheath mark at the far edge of the opening or cut.`, {
      unit: "mark",
      max: 10_000_000,
    }),
    mark_out: number(say`mark out`, say`Sheath mark at the mouth where it goes out.`, {
      unit: "mark",
      max: 10_000_000,
    }),
    marks_basis: choice(say`marks are`, say`Whether the marks were read or worked out.`, {
      read: say`read`,
      computed: say`computed`,
    }),
    slack_m: number(say`slack`, say`Metres coiled here, where the marks don't say.`, { unit: "m", max: 10_000 }),
    storage: choice(say`stored as`, say`How the slack is stored.`, {
      none: say`not stored`,
      coil: say`coil`,
      figure_eight: say`figure eight`,
      rack: say`on a storage rack`,
    }),
    coil_diameter_mm: number(say`coil diameter`, say`Diameter of the coil.`, { unit: "mm", max: 10_000 }),
    closure_id: reference("closure", say`closure`, say`The case the cable enters here.`),
    metal: choice(say`metal`, say`What was done with metallic members here.`, {
      bonded: say`bonded`,
      isolated: say`isolated`,
      carried_through: say`carried through`,
      unbonded: say`unbonded`,
      none: say`no metal`,
    }),
    metal_on: date(say`metal seen on`, say`The day the bonding was last seen.`),
    ...provenance,
  },
});
