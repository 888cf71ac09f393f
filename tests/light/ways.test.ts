import { describe, expect, it } from "vitest";
import { Made } from "../glass/made.ts";
import { loss } from "./made-line.ts";

/** A head end, a splitter of four ways, and glass of 100, 200, ... metres behind the first outputs. */
function tree(ways: number, join: object = {}) {
  const made = new Made();
  const building = made.building("B");
  const room = made.room("R", building);
  const type = made.add("cable_type", {
    tag: "T",
    colour_sequence: "tia_598",
    fibre_class: "g652d",
    excess_ratio: 0,
  });
  const olt = made.device("OLT", room, 1, 1);
  made.add("interface", { port_id: olt.ports[0], application: "GPON B+" });
  const splitter = made.module("S", room, "splitter", 5, 1);
  made.cord(olt.ports[0], splitter.ports[0], { length_m: 0 });
  const circuits: number[] = [];
  for (let way = 1; way <= 4; way += 1) {
    made.join(splitter.id, splitter.positions[0], splitter.positions[way], { b_side: "front", ...join });
    if (way > ways) continue;
    const far = made.room(`U${way}`, building);
    const pathway = made.pathway(`W${way}`, room, far, way * 100);
    const { sections } = made.cable(`F-${way}`, [room, far], 1, { values: { type_id: type }, ways: [pathway] });
    made.land(sections[0], "A", splitter.positions[way], { method: "direct" });
    const panel = made.panel("P", far, 1);
    made.land(sections[0], "B", panel.positions[0], { method: "direct" });
    circuits.push(made.circuit(`K-${way}`, [sections[0] as number]));
  }
  return made.plant();
}

const ASKED = { wavelength_nm: 1310, as: "channel" };

describe("a line that a splitter forks", () => {
  it("is reckoned way by way, with the splitter's loss by how many ways it has", async () => {
    const { lines, terms } = await loss(await tree(2), "B/R/OLT:01", ASKED);
    const glass = lines.map(({ losses }) =>
      losses[0]?.terms.filter(({ kind }) => kind === "glass").map(({ loss_db }) => loss_db),
    );
    expect(glass.slice(0, 2)).toEqual([[0.04], [0.08]]);
    expect(lines).toHaveLength(4);
    expect(terms.find(({ kind }) => kind === "module")).toMatchObject({
      loss_db: 7.3,
      least_db: 6.0206,
      basis: "limit",
    });
  });
  it("is reckoned by its own glass for a circuit", async () => {
    const { lines } = await loss(await tree(3), "K-2", ASKED);
    expect(lines.map(({ length_m }) => length_m)).toEqual([200]);
  });
  it("loses the same from the far end", async () => {
    const plant = await tree(2);
    const [there] = (await loss(plant, "B/R/OLT:01", ASKED)).lines;
    const back = await loss(plant, "B/U1/P:01", ASKED);
    expect(back.lines).toHaveLength(1);
    expect(back.loss_db).toBeCloseTo(there?.losses[0]?.loss_db ?? Number.NaN, 3);
  });
  it("counts the loss on record of the join", async () => {
    const { terms } = await loss(await tree(1, { loss_db: 7 }), "B/R/OLT:01", ASKED);
    expect(terms.find(({ kind }) => kind === "module")).toMatchObject({ loss_db: 7, basis: "typical" });
  });
});
