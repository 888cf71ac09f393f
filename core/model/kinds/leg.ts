import { say } from "../../words/say.ts";
import { choice, number, reference } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const leg = defineKind({
  name: "leg",
  one: say`leg`,
  many: say`legs`,
  group: "cable",
  help: say`The cable's way from one stop to the next.`,
  address: null,
  key: ["from_stop_id", "to_stop_id", "pathway_id", "conduit_id"],
  unique: false,
  indices: [["from_stop_id"], ["to_stop_id"], ["pathway_id"], ["conduit_id"]],
  ownedBy: ["from_stop_id"],
  fields: {
    from_stop_id: reference("stop", say`from`, say`The stop it leaves.`, { required: true }),
    to_stop_id: reference("stop", say`to`, say`The next stop.`, { required: true }),
    pathway_id: reference("pathway", say`pathway`, say`The pathway it lies in; empty where nobody knows.`),
    conduit_id: reference("conduit", say`conduit`, say`The pipe it lies in; empty where nobody knows.`),
    held: choice(say`held`, say`How it is held.`, {
      loose: say`loose in pipe`,
      blown: say`blown`,
      lashed: say`lashed`,
      self_supporting: say`self-supporting`,
      clamped: say`clamped`,
      buried: say`buried`,
      laid: say`laid on a tray`,
      on_ground: say`laid on the ground`,
    }),
    slides: choice(say`can slide`, say`Whether the cable can be pulled along here.`, {
      yes: say`yes`,
      no: say`no`,
      unproven: say`unproven`,
    }),
    ...physical,
    ...provenance,
    // The database has these last: they came with a later migration.
    length_m: number(
      say`sheath`,
      say`Metres of sheath along it, mouth to mouth, where no marks tell it; it goes before the length of its pathway unless it is only planned.`,
      { unit: "m", max: 1_000_000 },
    ),
    length_basis: choice(say`sheath is`, say`Whether the metres of sheath were measured or are as planned.`, {
      planned: say`as planned`,
      measured: say`measured`,
    }),
  },
});
