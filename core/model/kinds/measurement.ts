import { say } from "../../words/say.ts";
import { choice, date, kindOfSubject, number, reference, subject, tag, text, yesNo } from "../field.ts";
import { defineKind, provenance } from "../kind.ts";

export const measurement = defineKind({
  name: "measurement",
  one: say`measurement`,
  many: say`measurements`,
  group: "evidence",
  help: say`An instrument's result.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  indices: [["subject_kind", "subject_id"]],
  fields: {
    tag: tag(say`The measurement's number.`),
    method: choice(
      say`method`,
      say`What it was measured with.`,
      { source_meter: say`light source and meter`, otdr: "OTDR", visual: say`visual` },
      { required: true, initial: "source_meter" },
    ),
    subject_kind: kindOfSubject(say`What kind of thing was measured.`),
    subject_id: subject(say`of`, say`The strand, section, port or circuit measured.`, "subject_kind"),
    far_port_id: reference("port", say`far port`, say`The port at the far end.`),
    wavelength_nm: number(say`wavelength`, say`Wavelength.`, { unit: "nm", min: 400, max: 2000 }),
    direction: choice(say`direction`, say`Which way it was measured.`, {
      a_to_b: say`A to B`,
      b_to_a: say`B to A`,
      both: say`mean of both`,
    }),
    reference_method: choice(say`reference`, say`How the reference was set.`, {
      one_cord: say`one cord`,
      two_cords: say`two cords`,
      three_cords: say`three cords`,
    }),
    loss_db: number(say`loss`, say`Loss measured.`, { unit: "db", min: -10, max: 80 }),
    length_m: number(say`length`, say`Glass length measured.`, { unit: "m", max: 1_000_000 }),
    reflectance_db: number(say`reflectance`, say`Worst reflectance.`, { unit: "db", min: -100, max: 0 }),
    group_index: number(say`index set`, say`The group index the instrument was set to.`, {
      unit: "none",
      min: 1,
      max: 2,
    }),
    cords_included: yesNo(say`cords included`, say`Whether cords were in the measured stretch.`),
    measured_on: date(say`on`, say`The day.`),
    measured_by: text(say`by`, say`Who measured.`, { max: 80 }),
    file_id: reference("attachment", say`file`, say`The instrument's file.`),
    ...provenance,
  },
});
