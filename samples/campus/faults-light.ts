/** What is wrong with light on the demo campus, on purpose: one slip or more for each rule of the family. */
import type { Crew } from "./crew.ts";
import type { Landings } from "./glass.ts";

type Values = Readonly<Record<string, unknown>>;

export async function plantFaultsOfLight(crew: Crew, landings: Landings): Promise<void> {
  const idBy = async (kind: string, field: string, value: string | number): Promise<number> => {
    const found = await crew.ask<{ rows: { id: number }[] }>("record.window", {
      kind,
      sort: [],
      filters: [{ field, test: "is", value }],
      offset: 0,
      limit: 1,
    });
    return found.rows[0]?.id as number;
  };
  const edit = (kind: string, id: number, values: Values) => crew.ask("record.edit", { kind, id, values });

  crew.sitting("admin", "2026-09-14", "optics and cords of the autumn");
  await edit("cord", await idBy("cord", "tag", "C-0009"), { fibre_class: "om3" });
  await edit("cord", await idBy("cord", "tag", "C-0016"), { a_connector: "sc_duplex" });
  // Optics for long ways in a short run; one of its strands was measured.
  for (const port of ["BKR/ER/EDGE-2:13", "KLP/ER/SW-KLP:1"]) {
    await edit("interface", await idBy("interface", "port_id", await crew.idOf("port", port)), {
      application: "10GBASE-ER",
      wavelength_nm: 1550,
      launch_min_dbm: -4.7,
      launch_max_dbm: 4,
      sensitivity_dbm: -15.8,
      overload_dbm: -1,
    });
  }
  const reading = { method: "source_meter", direction: "both", reference_method: "one_cord", basis: "measured" };
  const by = { measured_on: "2026-09-15", measured_by: "crew 1" };
  await crew.add("measurement", [
    {
      tag: "M-0101",
      ...reading,
      ...by,
      subject_kind: "port",
      subject_id: `${landings.get("F-003 BKR/ER")}:01`,
      far_port_id: `${landings.get("F-003 KLP/ER")}:01`,
      wavelength_nm: 1550,
      loss_db: 0.9,
      cords_included: "yes",
    },
    {
      tag: "M-0102",
      ...reading,
      ...by,
      subject_kind: "strand",
      subject_id: "F-001:31",
      wavelength_nm: 1310,
      loss_db: 3.1,
      cords_included: "no",
    },
  ]);

  crew.sitting("clerk", "2026-09-21", "measuring what is changed");
  await crew.add("limit_value", [
    {
      tag: "measure.changes_days",
      meaning: "A line that changed in so many days before today is to be measured after it",
      value: 120,
      unit: "days",
      how_known: "policy",
    },
  ]);
  const section = await crew.idOf("section", "F-002:21");
  await edit("termination", await idBy("termination", "section_id", section), { made_on: "2026-09-16" });
}
