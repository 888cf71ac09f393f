/** Equipment, cords and circuits. */
import type { CableRow } from "./cables.ts";
import type { Crew } from "./crew.ts";
import type { Landings } from "./glass.ts";

/** The switches and circuits of today began with the renewal of the core; on younger cables, with the cable. */
const SERVICE_BEGAN = "2018-01-01";

const OPTIC = {
  application: "10GBASE-LR",
  wavelength_nm: 1310,
  launch_min_dbm: -8.2,
  launch_max_dbm: 0.5,
  sensitivity_dbm: -14.4,
  overload_dbm: 0.5,
  hazard_level: "1",
  connector: "lc_duplex",
  positions: 2,
  polish: "upc",
  transmit_position: 1,
  receive_position: 2,
};

export async function enterDevices(crew: Crew): Promise<void> {
  crew.survey("admin", "2026-02-10", "switches as they run");
  crew.stood(SERVICE_BEGAN);
  for (const [space, tag, ports] of [
    ["LMP/CR", "CORE-1", "1/1..1/48"],
    ["BKR/CR", "CORE-2", "1/1..1/48"],
    ["LMP/ER", "EDGE-1", "1..48"],
    ["BKR/ER", "EDGE-2", "1..48"],
  ] as const) {
    await crew.ask("device.enter", {
      tag,
      space,
      rack: "R3",
      rack_unit: 20,
      model: "core switch, 48 optics",
      ports: [{ numbers: ports, ...OPTIC }],
      basis: "seen",
    });
  }
  for (const building of [
    "TID",
    "KLP",
    "WAV",
    "SLT",
    "GLS",
    "REF",
    "RSN",
    "RSS",
    "INF",
    "PWR",
    "SIG",
    "BTS",
    "NET",
    "GAT",
  ]) {
    await crew.ask("device.enter", {
      tag: `SW-${building}`,
      space: `${building}/ER`,
      rack: "R1",
      rack_unit: 10,
      model: "access switch, 4 optics",
      ports: [{ numbers: "1..4", ...OPTIC }],
      basis: "seen",
    });
  }
  await crew.ask("device.enter", {
    tag: "OLT-1",
    space: "REF/ER",
    rack: "R1",
    rack_unit: 14,
    model: "head end of the residence network",
    ports: [
      {
        numbers: "PON1..PON2",
        connector: "sc",
        positions: 1,
        polish: "upc",
        application: "GPON B+",
        wavelength_nm: 1490,
        launch_min_dbm: 1.5,
        launch_max_dbm: 5,
        hazard_level: "1M",
        transmit_position: 1,
        receive_position: 1,
      },
    ],
    basis: "seen",
  });
}

const APPLICATIONS = ["10GBASE-LR", "1000BASE-LX", "100GBASE-LR4", "10GBASE-LR", "1000BASE-LX"];
/** What runs over it: each application carries what needs it. */
const USES: Readonly<Record<string, readonly string[]>> = {
  "10GBASE-LR": ["data", "laboratory", "wireless access", "camera recorders"],
  "1000BASE-LX": ["telephones", "door access", "building control", "guest network", "time signal", "cameras"],
  "100GBASE-LR4": ["computing", "storage", "data, trunk"],
};

/** How many strands of a cable are in use: the first ones. */
function served({ tag, type }: CableRow): number {
  if (tag === "F-034") return 24;
  if (tag === "F-028") return 12;
  if (type === "LT-144-A") return 36;
  if (type.startsWith("LT-96")) return 24;
  if (type === "LT-36-A") return 9;
  return type === "RB-432" ? 48 : 16;
}

/** Pairs of every cable that leaves a core building, one circuit each. */
export async function enterCircuits(crew: Crew, cables: readonly CableRow[], landings: Landings): Promise<number> {
  crew.survey("admin", "2026-02-16", "circuit list of the old office, checked by tracing");
  let number = 0;
  const laid = new Map(cables.map(({ tag, installed }) => [tag, installed]));
  const enter = async (
    values: Readonly<Record<string, unknown>>,
    what: string[],
    roles?: string[],
  ): Promise<string> => {
    number += 1;
    const tag = `K-${String(number).padStart(3, "0")}`;
    const since = [SERVICE_BEGAN, ...what.map((strands) => laid.get(strands.split(":")[0] ?? "") ?? "")].sort().at(-1);
    crew.stood(since ?? SERVICE_BEGAN);
    await crew.ask("circuit.enter", { tag, ...values });
    await crew.ask("circuit.assign", { circuit: tag, what, ...(roles ? { roles } : {}), from_on: since });
    return tag;
  };
  const service = (cable: CableRow, n: number) => {
    const to = cable.route.at(-1)?.split("/")[0] ?? "";
    const application = APPLICATIONS[n % APPLICATIONS.length] ?? "";
    const uses = USES[application] ?? [];
    return { name: `${to} ${uses[Math.floor(n / APPLICATIONS.length) % uses.length]}`, application };
  };
  for (const cable of cables) {
    if (!/^F-0/.test(cable.tag) || !["all", "96", "24"].includes(cable.landed)) continue;
    if (!landings.has(`${cable.tag} ${cable.route[0]}`)) continue;
    // Angled simplex ports carry one strand each: both ways on one strand.
    const width = cable.type === "LT-36-A" ? 1 : 2;
    for (let first = 1; first < served(cable); first += width) {
      // Strands cut for a lateral serve others.
      if (cable.tag === "F-006" && first >= 13 && first <= 24) continue;
      const n = number;
      const state = n % 13 === 5 ? "reserved" : n % 29 === 17 ? "planned" : "in_service";
      await enter(
        {
          ...service(cable, n),
          strands: width,
          priority: (n % 5) + 1,
          state,
          ...(state === "reserved" ? { reserved_until: "2027-06-30" } : {}),
          ...(n % 31 === 7 ? { owner: "WEATHER" } : {}),
        },
        width === 1 ? [`${cable.tag}:${first}`] : [`${cable.tag}:${first}-${first + 1}`],
        width === 1 ? undefined : ["transmit", "receive"],
      );
    }
  }
  // Spliced runs, the lateral and the mend, each over two cables.
  for (const [strands, what] of [
    ["F-010:1-2", "RSN data over two reels"],
    ["F-010:3-4", "RSN doors over two reels"],
    ["L-201:1-2", "GLS irrigation"],
    ["L-202:1-2", "KLP second way"],
    ["F-032:1-2", "RSS data, mended"],
    ["F-032:3-4", "RSS cameras, mended"],
  ] as const) {
    await enter(
      { name: what, application: "10GBASE-LR", strands: 2, priority: 2, state: "in_service" },
      [strands],
      ["transmit", "receive"],
    );
  }
  return number;
}

/** Cords on record: some, as in most plants. The rest was never written down. */
export async function patchSome(crew: Crew, landings: Landings): Promise<void> {
  crew.sitting("admin", "2026-03-02", "cords followed by hand");
  let cord = 0;
  const patch = async (from: string, to: string, length_m: number, map = "crossed"): Promise<void> => {
    cord += 1;
    await crew.ask("cord.patch", {
      from,
      to,
      map,
      tag: `C-${String(cord).padStart(4, "0")}`,
      length_m,
      colour: "yellow",
      fibre_class: "os2",
      basis: "seen",
    });
  };
  const pairs: readonly (readonly [string, string, string])[] = [
    ["F-001", "LMP/ER", "LMP/ER/EDGE-1"],
    ["F-002", "LMP/ER", "LMP/ER/EDGE-1"],
    ["F-003", "BKR/ER", "BKR/ER/EDGE-2"],
    ["F-005", "BKR/ER", "BKR/ER/EDGE-2"],
    ["F-006", "LMP/ER", "LMP/ER/EDGE-1"],
    ["F-011", "BKR/ER", "BKR/ER/EDGE-2"],
  ];
  let port = 0;
  for (const [cable, space, device] of pairs) {
    for (let n = 1; n <= 6; n += 1) {
      port = (port % 46) + 1;
      const panel = landings.get(`${cable} ${space}`);
      if (!panel) continue;
      await patch(`${panel}:${String(n).padStart(2, "0")}`, `${device}:${port}`, 2 + (n % 3));
    }
  }
  for (const [cable, space, device] of [
    ["F-003", "KLP/ER", "KLP/ER/SW-KLP"],
    ["F-005", "SLT/ER", "SLT/ER/SW-SLT"],
    ["F-006", "REF/ER", "REF/ER/SW-REF"],
    ["F-011", "NET/ER", "NET/ER/SW-NET"],
  ] as const) {
    const panel = landings.get(`${cable} ${space}`);
    // The pair is crossed at the other end.
    for (const n of [1, 2]) await patch(`${panel}:${String(n).padStart(2, "0")}`, `${device}:${n}`, 2, "straight");
  }
  // The head end feeds the splitter through the Refectory.
  const ref = landings.get("F-028 REF/ER");
  await crew.ask("cord.patch", {
    from: `${ref}:19`,
    to: "REF/ER/OLT-1:PON1",
    fibres: 1,
    tag: "C-PON1",
    length_m: 3,
    colour: "yellow",
  });
  // Seen empty: the far half of a panel.
  const empty = landings.get("F-004 WAV/ER");
  await crew.ask("port.sight_front", { ports: `${empty}:25-48`, front: "empty" });
}
