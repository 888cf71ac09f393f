/** What shows more than one room: ribbons joined at once, two bands on one strand, a hand-over to the carrier. */
import type { Crew } from "./crew.ts";
import type { Landings } from "./glass.ts";

/** Ribbons run on from the core trunk to the laboratory without a panel between: each ribbon is one splice. */
export async function spliceRibbons(crew: Crew): Promise<void> {
  crew.survey("clerk", "2026-01-27", "ribbon sheets of 2022");
  crew.stood("2022-10-06");
  await crew.ask("closure.enter", {
    tag: "CL-1",
    space: "BKR/ER",
    kind: "wall_box",
    entries: 12,
    capacity: 144,
    position: "left of rack R1",
    trays: [{ numbers: "T1..T2", capacity: 72 }],
    basis: "seen",
  });
  await crew.ask("splice.range", {
    from: "F-016:97-168",
    to: "F-033:97-168",
    tray: "BKR/ER/CL-1/T1",
    first_place: 1,
    form: "ribbon",
    ribbon: 12,
    method: "fusion",
    loss_ab_db: 0.07,
    loss_ba_db: 0.07,
    loss_basis: "both_ways",
    made_on: "2022-10-06",
    made_by: "crew 2",
    basis: "measured",
  });
}

/** The filters at both ends of the strand that two circuits share, and the carrier's pair in the Gatehouse. */
export async function patchShowpieces(crew: Crew, landings: Landings): Promise<void> {
  const at = (cable: string, space: string): string => {
    const panel = landings.get(`${cable} ${space}`);
    if (!panel) throw new Error(`${cable} did not land in ${space}`);
    return panel;
  };
  let cord = 700;
  const single = async (from: string, to: string): Promise<void> => {
    cord += 1;
    await crew.ask("cord.patch", {
      from,
      to,
      fibres: 1,
      map: "straight",
      tag: `C-0${cord}`,
      length_m: 2,
      colour: "yellow",
      fibre_class: "os2",
      basis: "seen",
    });
  };
  crew.sitting("admin", "2026-10-28", "the second band goes live");
  for (const [core, filter, riser, room] of [
    ["LMP/CR/CORE-1", "LMP/CR/WF-1", "B-102", "LMP"],
    ["BKR/CR/CORE-2", "BKR/CR/WF-2", "B-105", "BKR"],
  ] as const) {
    await single(`${core}:1/47`, `${filter}:CH1`);
    await single(`${core}:1/48`, `${filter}:CH2`);
    await single(`${filter}:COM`, `${at(riser, `${room}/CR`)}:12#1`);
    await single(`${at(riser, `${room}/ER`)}:12#1`, `${at("F-001", `${room}/ER`)}:71#1`);
  }

  crew.survey("admin", "2026-10-29", "the carrier's pair, from agreement A-2010-3");
  crew.stood("2010-11-01");
  await crew.ask("circuit.enter", {
    tag: "K-914",
    name: "weather data to the mainland",
    application: "1000BASE-LX",
    strands: 1,
    owner: "WEATHER",
    priority: 2,
    state: "in_service",
    z_party: "OUTER",
    z_reference: "A-2010-3/1",
  });
  await single(`${at("F-015", "GAT/ER")}:20`, `${at("X-302", "GAT/ER")}:01#1`);
  await crew.ask("circuit.assign", { circuit: "K-914", what: ["F-015:20"], from_on: "2010-11-01" });
}
