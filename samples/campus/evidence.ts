/** What was seen: labels, visits, measurements, jobs and policies. */
import type { CableRow } from "./cables.ts";
import type { Crew } from "./crew.ts";

export async function enterEvidence(crew: Crew, cables: readonly CableRow[]): Promise<void> {
  crew.sitting("clerk", "2026-04-07", "label round of spring");
  await crew.add("limit_value", [
    {
      tag: "tolerance.length_m",
      meaning: "Recorded and measured length may differ by this much",
      value: 5,
      unit: "m",
      how_known: "policy",
    },
    {
      tag: "tolerance.length_ratio",
      meaning: "and by this part of the recorded length",
      value: 0.02,
      unit: "ratio",
      how_known: "policy",
    },
    {
      tag: "crossing.default_m",
      meaning: "Dressed way through a hole of unknown size",
      value: 3,
      unit: "m",
      how_known: "policy",
    },
  ]);
  const visited = [
    "LMP/ER",
    "LMP/CR",
    "BKR/ER",
    "BKR/CR",
    "TID/ER",
    "KLP/ER",
    "WAV/ER",
    "SLT/ER",
    "REF/ER",
    "RSN/ER",
    "MH-01",
    "MH-02",
    "MH-04",
    "MH-07",
    "HH-16",
  ];
  await crew.add(
    "visit",
    visited.map((space, i) => ({
      tag: `V-${i + 1}`,
      made_on: `2026-03-${String(10 + i).padStart(2, "0")}`,
      made_by: "crew 1",
      space_id: space,
      extent: "all",
    })),
  );
  await crew.add("visit", [
    {
      tag: "V-90",
      made_on: "2026-03-30",
      made_by: "crew 2",
      space_id: "MH-03",
      extent: "part",
      notes: "Water to the lid; only the north wall seen.",
    },
    { tag: "V-91", made_on: "2025-11-04", made_by: "crew 2", cable_id: "F-025", extent: "all" },
  ]);
  for (const { tag } of cables) {
    if (tag.startsWith("X-")) continue;
    await crew.ask("label.write_due", { cable: tag, printed_on: "2026-04-01" });
    for (const space of visited) {
      const cable = cables.find((one) => one.tag === tag);
      if (!cable?.route.includes(space)) continue;
      await crew.ask("label.sight", {
        subject: tag,
        kind: "cable",
        space,
        state: "present",
        seen_on: "2026-04-07",
        seen_by: "crew 1",
      });
    }
  }
  await labelPanels(crew, visited);
}

/** A label on every panel but two; those in rooms that were visited were seen. */
async function labelPanels(crew: Crew, visited: readonly string[]): Promise<void> {
  const panels = await crew.ask<{ rows: { address: string }[] }>("record.window", {
    kind: "panel",
    sort: [],
    filters: [],
    offset: 0,
    limit: 200,
  });
  for (const { address } of panels.rows) {
    const space = address.slice(0, address.lastIndexOf("/"));
    if (address === "BKR/ER/B" || address === "GAT/ER/B") continue;
    await crew.ask("label.write", { subject: address, kind: "panel", printed_on: "2026-04-01" });
    if (!visited.includes(space)) continue;
    await crew.ask("label.sight", {
      subject: address,
      kind: "panel",
      state: "present",
      seen_on: "2026-04-07",
      seen_by: "crew 1",
    });
  }
}
