/** Cable that doesn't belong where it lies on the demo campus, on purpose: one slip or more for each rule of the family. */
import type { Crew } from "./crew.ts";

type Values = Readonly<Record<string, unknown>>;

export async function plantFaultsOfFitness(crew: Crew): Promise<void> {
  const edit = async (kind: string, address: string, values: Values): Promise<void> => {
    await crew.ask("record.edit", { kind, id: await crew.idOf(kind, address), values });
  };

  crew.sitting("admin", "2026-10-05", "cable surveys of the autumn");
  // Metal.
  await edit("stop", "F-015@6", { metal: "unbonded", metal_on: "2026-10-01" });
  await edit("stop", "L-201@2", { metal: null, metal_on: null });
  await edit("stop", "F-013@3", { kind: "opened" });
  // Sheaths.
  await edit("cable", "F-026", { differs: { environment: "indoor" } });
  await edit("cable", "F-025", { differs: { uv_resistant: "no" } });
  await edit("cable", "F-011", { differs: { water_blocking: "none" } });
  await edit("cable", "B-109", { differs: { fire_marking: "general" } });
  await edit("cable", "F-028", { differs: { max_tension_n: 27 } });
  await edit("cable", "B-106", { life: "out_of_use" });
  await edit("unit", "B-111/1", { coating_um: "250" });
  await edit("stop", "F-018@2", { coil_diameter_mm: 90 });
  // Ways and pipes.
  await edit("pathway", "EN-09", { entrance_m: null });
  await edit("pathway", "EN-19", { entrance_m: 1 });
  await edit("conduit", "EN-16/1", { inner_diameter_mm: 5.3 });
  await edit("conduit", "EN-06/1", { inner_diameter_mm: 32 });
  await edit("conduit", "EN-03/2", { inner_diameter_mm: 35 });
  const legs = await crew.ask<{ rows: { id: number }[] }>("record.window", {
    kind: "leg",
    sort: [],
    filters: [{ field: "from_stop_id", test: "is", value: await crew.idOf("stop", "F-031@1") }],
    offset: 0,
    limit: 1,
  });
  await crew.ask("record.edit", { kind: "leg", id: legs.rows[0]?.id, values: { conduit_id: "EN-03/2" } });
  await crew.add("limit_value", [
    {
      tag: "depth.least.direct_buried",
      meaning: "Least cover of cable buried without a pipe on college ground",
      value: 0.45,
      unit: "m",
      source: "Agreement with the Harbour Authority, sheet 2",
      how_known: "policy",
    },
  ]);
}
