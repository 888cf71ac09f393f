/** A break that is on record is told as one, by the trace, the feeds and the report, though it lies in no place. */
import { describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { line } from "../jobs/line.ts";

const WHERE = { cable: "F-050", after: "H-1" };
const EDGES = { mark_open_from: 1172, mark_open_to: 1174 };

describe("a cable severed between two holes", () => {
  it("is where its glass ends: between which, and at which mark on each side", async () => {
    const plant = await line();
    await plant.run("cable.sever", { ...WHERE, ...EDGES });
    const near = await plant.run<TraceAnswer>("trace.walk", { what: "LIB/101/A:07#1" });
    expect(near.to).toMatchObject({
      kind: "open_end",
      words: "cut between H-1 and H-2, mark 1172, and joined to nothing",
    });
    expect(near.sentence).toContain(", cut between H-1 and H-2, mark 1172: ");
    const far = await plant.run<TraceAnswer>("trace.walk", { what: "SCI/B01/P:07#1" });
    expect(far.to.words).toBe("cut between H-1 and H-2, mark 1174, and joined to nothing");
  });
  it("without a mark is told by the places alone", async () => {
    const plant = await line();
    await plant.run("cable.sever", WHERE);
    const { to } = await plant.run<TraceAnswer>("trace.walk", { what: "LIB/101/A:07#1" });
    expect(to.words).toBe("cut between H-1 and H-2, and joined to nothing");
  });
  it("makes the circuit on it an error in the report, not a gap of the record", async () => {
    const plant = await line();
    await plant.run("cable.sever", { ...WHERE, ...EDGES });
    expect(await plant.found("truth.circuit_record_ends")).toEqual([]);
    const [found] = await plant.found("truth.circuit_apart");
    expect(found?.severity).toBe("error");
    expect(found?.sentence).toMatch(/^`K-7` is in service, but .*the glass is cut \(`F-050:13#1`, `F-050:13#2`/);
  });
  it("is told by the feeds of both ends, with the circuits that are down, until it is joined again", async () => {
    const plant = await line();
    const fed = (what: string) => plant.run<FeedsAnswer>("feeds.of", { what });
    expect(await fed("SCI")).toMatchObject({ cut: 0, cut_circuits: [] });
    await plant.run("cable.sever", { ...WHERE, ...EDGES });
    for (const what of ["SCI", "LIB"]) {
      const { cut, cut_circuits, counts, sentence, cables } = await fed(what);
      expect([what, cut, cut_circuits.map(({ tag }) => tag), counts.in_service]).toEqual([what, 2, ["K-7"], 2]);
      expect(sentence).toContain("2 strands in service on record end at a cut: nothing comes over them for K-7.");
      expect(cables.find(({ cable }) => cable.tag === "F-050")?.cut).toBe(2);
    }
    // The same with the plant's glass read for it, of some states alone.
    expect(await plant.run<FeedsAnswer>("feeds.of", { what: "SCI", states: ["spare"] })).toMatchObject({ cut: 2 });
    await plant.run("history.undo", {});
    expect(await fed("SCI")).toMatchObject({ cut: 0, cut_circuits: [] });
  });
});
