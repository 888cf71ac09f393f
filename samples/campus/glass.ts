/** Panels and landings, closures and splices, openings with their laterals, the splitter, the cassettes, the cut. */
import type { CableRow } from "./cables.ts";
import type { Crew } from "./crew.ts";

/** The panel each cable end landed on, as "F-001 LMP/ER" to the panel's address. */
export type Landings = Map<string, string>;

const STRANDS: Readonly<Record<string, number>> = {
  "LT-144-A": 144,
  "LT-96-D": 96,
  "LT-48-D": 48,
  "LT-36-A": 36,
  "RB-432": 432,
  "CT-24": 24,
  "DN-60": 60,
  "DN-48": 48,
  "FR-72": 72,
  "MX-36": 36,
  "TB-12-4": 12,
  "TB-24-S": 24,
  "MD-24": 24,
  "AT-24": 24,
  "XL-16": 16,
  "DR-12": 12,
  "FIG-8": 48,
};

/** Multimode ends: beige no more, aqua adapters; the old armoured cables have angled simplex plugs. */
function facing(type: string): { connector: string; positions: number; polish: string; adapter_colour: string } {
  if (type === "LT-36-A") return { connector: "sc", positions: 1, polish: "apc", adapter_colour: "green" };
  if (type === "TB-12-4") return { connector: "lc_duplex", positions: 2, polish: "pc", adapter_colour: "aqua" };
  return { connector: "lc_duplex", positions: 2, polish: "upc", adapter_colour: "blue" };
}

const METHOD: Readonly<Record<string, string>> = {
  "TB-12-4": "direct",
  "TB-24-S": "splice_on",
  "AT-24": "pre_terminated",
};

export async function landCables(crew: Crew, cables: readonly CableRow[]): Promise<Landings> {
  crew.survey("clerk", "2026-01-20", "panel schedules read from the room doors");
  const landings: Landings = new Map();
  const letters = new Map<string, number>();
  for (const cable of cables) {
    if (cable.landed === "none" || cable.landed === "array" || cable.type === "") continue;
    const whole = cable.landed === "all" || cable.landed === "start";
    const strands = whole ? (STRANDS[cable.type] ?? 0) : Number(cable.landed);
    crew.stood(cable.installed);
    const ends = [cable.route[0] as string, cable.route.at(-1) as string].slice(0, cable.landed === "start" ? 1 : 2);
    for (const space of ends) {
      if (!space.includes("/")) continue;
      const n = letters.get(space) ?? 0;
      letters.set(space, n + 1);
      const tag = n < 26 ? String.fromCharCode(65 + n) : `A${n - 25}`;
      const face = facing(cable.type);
      const ports = Math.ceil(strands / face.positions);
      const width = ports > 99 ? 3 : 2;
      const last = String(ports).padStart(width, "0");
      await crew.ask("panel.enter", {
        tag,
        space,
        rack: n < 8 ? "R1" : "R2",
        rack_unit: 40 - (n % 8) * 4,
        height_u: Math.max(1, Math.ceil(ports / 24)),
        rows: Math.max(1, Math.ceil(ports / 24)),
        model: `${ports} port ${face.connector.startsWith("sc") ? "SC" : "LC"} panel`,
        ports: [{ numbers: `${"1".padStart(width, "0")}..${last}`, ...face }],
        basis: "seen",
      });
      await crew.ask("strand.land", {
        strands: `${cable.tag}:1-${strands}`,
        ports: `${space}/${tag}:*`,
        method: METHOD[cable.type] ?? "pigtail",
        loss_db: METHOD[cable.type] ? 0.3 : 0.25,
        loss_basis: "estimate",
        basis: "seen",
        ...(ends[0] === ends[1] ? { end: space === ends[0] ? "A" : "B" } : {}),
      });
      landings.set(`${cable.tag} ${space}`, `${space}/${tag}`);
    }
  }
  return landings;
}

async function closure(crew: Crew, space: string, trays: number, capacity = 24): Promise<string> {
  await crew.ask("closure.enter", {
    tag: "CL-1",
    space,
    kind: "dome",
    entries: 6,
    capacity: trays * capacity,
    trays: [{ numbers: trays === 1 ? "T1" : `T1..T${trays}`, capacity }],
    basis: "seen",
  });
  return `${space}/CL-1`;
}

const fusion = (made_on: string, made_by: string) => ({
  first_place: 1,
  method: "fusion",
  loss_ab_db: 0.04,
  loss_ba_db: 0.06,
  loss_basis: "both_ways",
  made_on,
  made_by,
  basis: "measured",
});

/** Runs of several reels, laterals out of mid-span openings, and the mend of the cut. */
export async function spliceCables(crew: Crew): Promise<void> {
  crew.survey("clerk", "2026-01-26", "splice sheets of the contractor");
  crew.stood("2016-04-21");
  const hh16 = await closure(crew, "HH-16", 4);
  await crew.ask("splice.range", {
    from: "F-009:1-24",
    to: "F-010:1-24",
    tray: `${hh16}/T1`,
    ...fusion("2016-04-21", "crew 2"),
  });

  // A lateral to the Glass Garden out of the north ring, which passes by.
  // The case is as old as the blown cable, the lateral a year younger.
  crew.stood("2021-05-12");
  const mh07 = await closure(crew, "MH-07", 4);
  crew.stood("2022-03-17");
  await crew.ask("cable.open", {
    cable: "F-006",
    stop: "MH-07",
    closure: mh07,
    cut: "13-24",
    stub_a: "yes",
    stub_b: "yes",
  });
  await crew.ask("splice.range", {
    from: "F-006:13-24#1",
    to: "L-201:1-12",
    tray: `${mh07}/T1`,
    ...fusion("2022-03-17", "crew 1"),
  });
  crew.stood("2018-08-09");
  const mh04 = await closure(crew, "MH-04", 4);
  await crew.ask("cable.open", {
    cable: "F-005",
    stop: "MH-04",
    closure: mh04,
    cut: "25-36",
    stub_a: "yes",
    stub_b: "no",
  });
  await crew.ask("splice.range", {
    from: "F-005:25-36#1",
    to: "L-202:1-12",
    tray: `${mh04}/T1`,
    ...fusion("2018-08-09", "crew 2"),
  });
  // The blown cable joins the east side to the west ring.
  crew.stood("2021-05-12");
  const mh06 = await closure(crew, "MH-06", 4);
  await crew.ask("cable.open", {
    cable: "F-005",
    stop: "MH-06",
    closure: mh06,
    cut: "49-60",
    stub_a: "yes",
    stub_b: "yes",
  });
  await crew.ask("splice.range", {
    from: "F-005:49-60#1",
    to: "F-024:1-12",
    tray: `${mh06}/T1`,
    ...fusion("2021-05-12", "crew 1"),
  });
  await crew.ask("cable.open", {
    cable: "F-002",
    stop: "MH-07",
    closure: mh07,
    cut: "133-144",
    stub_a: "yes",
    stub_b: "yes",
  });
  await crew.ask("splice.range", {
    from: "F-024:1-12",
    to: "F-002:133-144#2",
    tray: `${mh07}/T2`,
    ...fusion("2021-05-12", "crew 1"),
  });

  crew.stood("2017-09-02");
  // The splitter cabinet on the way to North Residence.
  await crew.ask("cable.open", {
    cable: "F-028",
    stop: "HH-16",
    closure: hh16,
    cut: "37-48",
    stub_a: "yes",
    stub_b: "no",
  });
  await crew.ask("splice.range", {
    from: "F-028:37-48#1",
    to: "F-022:1-12",
    tray: `${hh16}/T2`,
    ...fusion("2017-09-02", "crew 2"),
  });
  await crew.ask("module.enter", {
    kind: "splitter",
    tag: "SP-1",
    in: "CB-31",
    model: "1 to 8",
    inputs: [{ numbers: "IN", connector: "sc", positions: 1, polish: "apc", takes: "strand" }],
    outputs: [{ numbers: "O1..O8", connector: "sc", positions: 1, polish: "apc", takes: "strand" }],
    loss_db: 10.5,
    basis: "seen",
  });
  await crew.ask("strand.land", { strands: "F-022:1", ports: "CB-31/SP-1:IN", method: "pigtail" });
  await crew.ask("strand.land", { strands: "F-023:1-8", ports: "CB-31/SP-1:O1-O8", method: "pigtail" });

  // Cut by a digger in 2023, mended with a piece of its own.
  crew.stood("2023-04-14");
  const hh12 = await closure(crew, "HH-12", 2);
  await crew.ask("cable.sever", {
    cable: "F-031",
    stop: "HH-12",
    closure: hh12,
    cut: "1-48",
    stub_a: "yes",
    stub_b: "no",
    notes: "Cut by a digger, 14 April 2023.",
  });
  crew.stood("2023-04-18");
  await crew.ask("splice.range", {
    from: "F-031:1-24#1",
    to: "F-032:1-24",
    tray: `${hh12}/T1`,
    ...fusion("2023-04-18", "crew 1"),
  });
  await crew.ask("splice.range", {
    from: "F-031:25-48#1",
    to: "F-032:25-48",
    tray: `${hh12}/T2`,
    ...fusion("2023-04-18", "crew 1"),
  });
}

/** The array trunk between the core room and the upper floor, with a cassette at each end. */
export async function enterCassettes(crew: Crew): Promise<void> {
  crew.survey("clerk", "2026-01-28", "array trunk and filters");
  crew.stood("2019-11-01");
  for (const [space, map] of [
    ["LMP/CR", "straight"],
    ["LMP/T1", "crossed"],
  ] as const) {
    for (const n of [1, 2]) {
      await crew.ask("module.enter", {
        kind: "cassette",
        tag: `K${n}`,
        in: space,
        slot: String(n),
        model: "array to duplex, 12 fibres",
        rear: [{ numbers: "R", connector: "mpo", positions: 12, polish: "pc" }],
        front: [{ numbers: "1..6", connector: "lc_duplex", positions: 2, polish: "pc", adapter_colour: "aqua" }],
        map,
        loss_db: 0.35,
        basis: "seen",
      });
      await crew.ask("strand.land", {
        strands: `B-104:${n === 1 ? "1-12" : "13-24"}`,
        ports: `${space}/K${n}:R`,
        method: "pre_terminated",
      });
    }
  }
  for (const [tag, space] of [
    ["WF-1", "LMP/CR"],
    ["WF-2", "BKR/CR"],
  ] as const) {
    await crew.ask("module.enter", {
      kind: "filter",
      tag,
      in: space,
      model: "two bands on one strand",
      common: { numbers: "COM", connector: "lc", positions: 1, polish: "upc" },
      channels: [
        { numbers: "CH1", connector: "lc", positions: 1, polish: "upc", band: "1260-1360", loss_db: 0.6 },
        { numbers: "CH2", connector: "lc", positions: 1, polish: "upc", band: "1530-1565", loss_db: 0.6 },
      ],
      basis: "seen",
    });
  }
}
