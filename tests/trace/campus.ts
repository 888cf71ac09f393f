/** A small plant with a line from equipment to an open port, and how tests ask and read. */
import type { Hop, TraceAnswer } from "../../core/trace/answer.ts";
import { Made, type MadePlant } from "../glass/made.ts";

export const trace = (plant: MadePlant, what: unknown): Promise<TraceAnswer> =>
  plant.run<TraceAnswer>("trace.walk", { what });
export const kinds = (hops: readonly Hop[]): string => hops.map(({ kind }) => kind).join(" ");
export const tags = (hops: readonly Hop[]): string[] => hops.map(({ record }) => record.tag);

/**
 * SW in the Library is patched to panel A, whose glass runs F-1 to a hole, is spliced there to F-2, and ends at panel A of
 * the Observatory, an open port.
 */
export function campus() {
  const made = new Made();
  const lib = made.building("LIB", { name: "Library" });
  const obs = made.building("OBS", { name: "Observatory" });
  const spaces = {
    lib: made.room("101", lib),
    hole: made.add("space", { tag: "MH-3", kind: "maintenance_hole" }),
    obs: made.room("1A", obs),
  };
  const type = made.add("cable_type", {
    tag: "LT",
    construction: "loose_tube",
    colour_sequence: "tia_598",
    fibre_class: "g652d",
    excess_ratio: 0.02,
  });
  const ways = [made.pathway("DB-1", spaces.lib, spaces.hole, 400), made.pathway("DB-2", spaces.hole, spaces.obs, 900)];
  const first = made.cable("F-1", [spaces.lib, spaces.hole], 3, {
    values: { type_id: type, mark_unit: "ft" },
    stop: [{ mark_out: 3104 }, { mark_in: 6800 }],
    ways: [ways[0] as number],
  });
  const second = made.cable("F-2", [spaces.hole, spaces.obs], 3, {
    values: { type_id: type },
    ways: [ways[1] as number],
  });
  const device = made.device("SW", spaces.lib, 1, 1);
  made.add("interface", { port_id: device.ports[0], application: "10GBASE-LR", hazard_level: "1M" });
  const panel = made.panel("A", spaces.lib, 3);
  const far = made.panel("A", spaces.obs, 3, 1, { front: "empty" });
  const closure = made.add("closure", { tag: "CL-3", space_id: spaces.hole });
  const tray = made.add("tray", { tag: "T1", closure_id: closure });
  for (const n of [0, 1, 2]) {
    made.land(first.sections[n], "A", panel.positions[n], { method: "pigtail" });
    made.land(second.sections[n], "B", far.positions[n], { method: "splice_on" });
    made.splice(first.sections[n], "B", second.sections[n], "A", { tray_id: tray, place: n + 1, method: "fusion" });
  }
  const cord = made.cord(device.ports[0], panel.ports[0], { tag: "C-7", length_m: 3 });
  return { made, spaces, ways, first, second, device, panel, far, closure, tray, cord };
}
