import { say } from "../../words/say.ts";
import { choice, integer, number, reference } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const measurementEvent = defineKind({
  name: "measurement_event",
  one: say`event of a measurement`,
  many: say`events of measurements`,
  group: "evidence",
  help: say`One event an instrument listed.`,
  address: { parents: ["measurement_id"], separator: "#", name: "ordinal" },
  key: ["measurement_id", "ordinal"],
  unique: true,
  ownedBy: ["measurement_id"],
  fields: {
    measurement_id: reference("measurement", say`measurement`, say`The measurement.`, { required: true }),
    ordinal: integer(say`order`, say`Its order.`, { min: 1, max: 10_000, required: true }),
    kind: choice(say`kind`, say`What it looked like.`, {
      launch: say`launch`,
      reflective: say`reflective`,
      loss: say`loss`,
      gain: say`gain`,
      end: say`end`,
    }),
    distance_m: number(say`distance`, say`Distance from the start.`, { unit: "m", max: 1_000_000 }),
    loss_db: number(say`loss`, say`Loss of the event.`, { unit: "db", min: -20, max: 80 }),
    reflectance_db: number(say`reflectance`, say`Reflectance of the event.`, { unit: "db", min: -100, max: 0 }),
    notes: provenance.notes,
  },
});
