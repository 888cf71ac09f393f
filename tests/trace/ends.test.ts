/** Where lines end: opened cables, unknown places, hand-over, what is planned or gone. */
import { describe, expect, it } from "vitest";
import { Made } from "../glass/made.ts";
import { campus, kinds, tags, trace } from "./campus.ts";

describe("a cable opened on its way", () => {
  /** F-1 passes MH-2, where strand 1 is cut and spliced to a lateral; strand 2 runs on; strand 3 is cut and left. */
  function opened() {
    const made = new Made();
    const spaces = [made.room("MH-1", null), made.room("MH-2", null), made.room("MH-3", null)];
    const cable = made.cable("F-1", spaces, 3, { stop: [{}, { kind: "opened" }, {}] });
    const [a, mid, b] = cable.stops;
    for (const n of [0, 2]) {
      const row = made.rows.find(({ kind, id }) => kind === "section" && id === cable.sections[n]);
      Object.assign(row?.values ?? {}, { b_stop_id: mid, b_stub: n === 2 ? "no" : "yes" });
    }
    const beyond = [0, 2].map((n) =>
      made.section(cable.strands[n] as number, mid as number, b as number, 2, { a_stub: "yes" }),
    );
    const lateral = made.cable("L-1", [spaces[1] as number, made.room("HH", null)], 1);
    made.splice(cable.sections[0], "B", lateral.sections[0], "A");
    return { made, cable, beyond, a };
  }

  it("lets express strands run through", async () => {
    const plant = await opened().made.plant();
    const answer = await trace(plant, "F-1:2");
    expect(kinds(answer.hops)).toBe("strand");
    expect([answer.hops[0]?.place?.space?.tag, answer.hops[0]?.to_place?.space?.tag]).toEqual(["MH-1", "MH-3"]);
  });
  it("leads cut strands where they are spliced, and calls what is left beyond dead", async () => {
    const plant = await opened().made.plant();
    const answer = await trace(plant, "F-1:1");
    expect(answer.lines.map(({ hops }) => tags(hops))).toEqual([
      ["F-1:1#1", "splice F-1:1#1 to L-1:1", "L-1:1"],
      ["F-1:1#2"],
    ]);
    expect(answer.lines[1]?.hops[0]).toMatchObject({ state: "dead", how: expect.stringContaining("a stub is left") });
    expect(answer.lines[1]?.from).toMatchObject({
      kind: "open_end",
      words: "cut and joined to nothing at MH-2, long enough to splice",
    });
  });
  it("tells two ends of one cut strand as two lines", async () => {
    const plant = await opened().made.plant();
    const answer = await trace(plant, "F-1:3");
    expect(answer.lines.map(({ hops }) => hops[0]?.state)).toEqual(["dead", "dead"]);
    expect(answer.lines[0]?.to.words).toBe("cut and joined to nothing at MH-2, too short to splice");
  });
});

describe("where the record ends", () => {
  it("is not the glass: an unknown place, a port nobody looked at, a cord that was seen but isn't on record", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const cable = made.cable("F-1", [room, null], 3);
    const panels = [null, "cord", "empty"].map((front, n) => made.panel(`P${n}`, room, 1, 1, { front }));
    for (const n of [0, 1, 2]) made.land(cable.sections[n], "A", panels[n]?.positions[0]);
    const plant = await made.plant();
    const ends = await Promise.all(["F-1:1", "F-1:2", "F-1:3"].map(async (what) => trace(plant, what)));
    expect(ends.map(({ from }) => [from.kind, from.words])).toEqual([
      ["record_ends", "nobody has looked in front of this port"],
      ["record_ends", "a cord was seen in front, but none is on record"],
      ["empty_port", "open port, nothing plugged in front"],
    ]);
    expect(ends.map(({ to }) => to)).toEqual(
      Array(3).fill(
        expect.objectContaining({ kind: "record_ends", words: "the record doesn't say where this glass ends" }),
      ),
    );
  });
  it("is behind a port that nothing landed on", async () => {
    const made = new Made();
    const panel = made.panel("A", made.room("101", made.building("LIB")), 1);
    const plant = await made.plant();
    expect((await trace(plant, { kind: "port", id: panel.ports[0] })).to.words).toBe(
      "nothing is on record behind this port",
    );
  });
  it("is not there where a circuit is handed over", async () => {
    const made = new Made();
    const room = made.room("101", made.building("LIB"));
    const party = made.add("party", { tag: "CARRIER", role: "carrier" });
    const cable = made.cable("F-1", [made.room("MH-1", null), room], 2);
    const panel = made.panel("A", room, 1);
    made.land(cable.sections[0], "B", panel.positions[0]);
    made.circuit("K-1", [cable.sections[0] as number], {
      z_party_id: party,
      z_port_id: panel.ports[0],
      z_reference: "X-77",
    });
    made.circuit("K-2", [cable.sections[1] as number], { z_party_id: party });
    const plant = await made.plant();
    expect((await trace(plant, "F-1:1")).to).toMatchObject({
      kind: "handed_over",
      words: "handed over to CARRIER, their X-77",
    });
    const glass = await trace(plant, "F-1:2");
    expect([glass.from.kind, glass.to.kind]).toEqual(["open_end", "handed_over"]);
  });
});

describe("what is planned or gone", () => {
  it("carries no light", async () => {
    const { made } = campus();
    for (const { kind, id, values } of made.rows) {
      if (kind === "splice" && id === 1) Object.assign(values, { life: "removed" });
      if (kind === "splice" && id === 2) Object.assign(values, { life: "planned" });
      if (kind === "splice" && id === 3) Object.assign(values, { life: "out_of_use" });
    }
    const plant = await made.plant();
    expect(kinds((await trace(plant, "F-1:1")).hops)).toBe("interface cord port strand");
    expect(kinds((await trace(plant, "F-1:2")).hops)).toBe("port strand");
    expect(kinds((await trace(plant, "F-1:3")).hops)).toBe("port strand splice strand port");
    await expect(trace(plant, { kind: "splice", id: 1 })).rejects.toThrow("is removed, so no light goes through it");
  });
});
