import { beforeAll, describe, expect, it } from "vitest";
import type { FindAnswer } from "../../core/operations/subjects/addresses.ts";
import { type Campus, newCampus } from "./campus.ts";

let campus: Campus;
beforeAll(async () => {
  campus = await newCampus();
  const cable = await campus.idOf("cable", "F-120");
  await campus.put("label", { subject_kind: "cable", subject_id: cable, text_read: "To boiler house 17" });
  await campus.put("circuit", { tag: "100%_A", name: "Odd tag" });
  return () => campus.close();
});

const find = (text: string, limit = 20) => campus.run<FindAnswer>("address.find", { text, limit });
const tags = async (text: string, limit?: number) =>
  (await find(text, limit)).hits.map(({ ref }) => `${ref.kind} ${ref.tag}`);

describe("search", () => {
  it("finds a tag, and shows where it is and what can be asked", async () => {
    const { hits } = await find("F-012");
    expect(hits[0]).toEqual({
      ref: { kind: "cable", id: await campus.idOf("cable", "F-012"), tag: "F-012" },
      what: "cable",
      name: null,
      place: "LIB/101 to SCI/B01",
      how: "exact",
      note: null,
      fits: ["page"],
    });
    const [building] = (await find("LIB")).hits;
    expect(building).toMatchObject({ ref: { kind: "building" }, name: "Library", fits: ["feeds", "page"] });
    const [room] = (await find("LIB/101")).hits;
    expect(room).toMatchObject({ name: "Network room", place: "Network room, Library", fits: ["feeds", "page"] });
    const [circuit] = (await find("K-100")).hits;
    expect(circuit).toMatchObject({ what: "circuit", name: "Library uplink", fits: ["trace", "page"] });
    const [panel] = (await find("LIB/101/A")).hits;
    expect(panel).toMatchObject({ place: "LIB/101, Network room" });
  });

  it("finds part of a tag, whichever way it is written: equal first, then beginning, then holding it", async () => {
    await campus.put("cable_type", { tag: "012" }, { tag: "012-X" });
    expect(await tags("012")).toEqual(["cable_type 012", "cable_type 012-X", "cable F-012"]);
    expect((await tags("f012"))[0]).toBe("cable F-012");
    expect((await tags("f 012"))[0]).toBe("cable F-012");
  });

  it("puts the shorter of two that begin alike first, whatever they are", async () => {
    await campus.put("cable_type", { tag: "ZZ-1234" });
    await campus.put("circuit", { tag: "ZZ-1" }, { tag: "ZZ-12345" });
    expect(await tags("ZZ")).toEqual(["circuit ZZ-1", "cable_type ZZ-1234", "circuit ZZ-12345"]);
  });

  it("finds names, former tags and what labels read, and says so", async () => {
    expect((await find("uplink")).hits).toMatchObject([{ ref: { tag: "K-100" }, how: "name" }]);
    expect((await find("P1")).hits.filter(({ ref }) => ref.kind === "panel")).toMatchObject([
      { ref: { tag: "LIB/101/A" }, how: "former", note: "formerly P1" },
    ]);
    expect((await find("boiler")).hits).toMatchObject([
      { ref: { tag: "F-120" }, how: "label", note: "its label reads To boiler house 17" },
    ]);
  });

  it("finds a port by the number it had before", async () => {
    const { hits } = await find("LIB/101/B-2:07");
    expect(hits[0]).toMatchObject({ ref: { kind: "port", tag: "LIB/101/B-2:31" }, how: "former" });
    // By the panel's former name or as crews write it, and says so.
    for (const text of ["LIB/101/P1:08", "LIB B-2 07", "LIB/101/P1:08-09"]) {
      expect((await find(text)).hits[0]).toMatchObject({ how: "former", note: `formerly ${text}` });
    }
  });

  it("puts what was called exactly so before what only begins so", async () => {
    const panel = await campus.idOf("panel", "LIB/101/B-2");
    await campus.put("port", { tag: "070", panel_id: panel }, { tag: "071", panel_id: panel });
    const { hits } = await find("LIB/101/B-2:07");
    expect(hits[0]).toMatchObject({ ref: { tag: "LIB/101/B-2:31" }, note: "formerly LIB/101/B-2:07" });
    expect(hits.slice(1, 3).map(({ ref }) => ref.tag)).toEqual(["LIB/101/B-2:070", "LIB/101/B-2:071"]);
  });

  it("finds no strand by a section it hasn't", async () => {
    expect(await tags("F-012:25#3")).toEqual([]);
  });

  it("finds strands and ports as crews write them", async () => {
    expect(await tags("F-012 · 25")).toEqual(["strand F-012:25"]);
    expect(await tags("021 or bl")).toEqual(["strand 021:13"]);
    expect(await tags("F-012:25-27")).toEqual(["strand F-012:25", "strand F-012:26", "strand F-012:27"]);
    expect(await tags("LIB A 7")).toEqual(["port LIB/101/A:07"]);
    const [strand] = (await find("F-012:25")).hits;
    expect(strand).toMatchObject({ what: "strand", place: "LIB/101 to SCI/B01", fits: ["trace", "page"] });
  });

  it("finds ports by their own tag where nothing else fits", async () => {
    expect(await tags("MPO1")).toEqual(["port LIB/101/B-2:MPO1"]);
    expect(await tags("1/0/24")).toEqual(["port LIB/101/SW-1:1/0/24"]);
  });

  it("takes signs of patterns as they are", async () => {
    expect(await tags("100%_")).toEqual(["circuit 100%25_A"]);
    expect(await tags("%")).toEqual(["circuit 100%25_A"]);
    expect(await tags("_")).toEqual([]);
    expect(await tags("\\")).toEqual([]);
    expect(await tags("' or 1=1 --")).toEqual([]);
  });

  it("answers nothing for nothing, and at most so many", async () => {
    expect(await tags("")).toEqual([]);
    expect(await tags("   ")).toEqual([]);
    const few = await find("1", 2);
    expect(few.hits).toHaveLength(2);
    expect(few.more).toBe(true);
  });

  it("lists each record once", async () => {
    const keys = (await find("F-012", 100)).hits.map(({ ref }) => `${ref.kind} ${ref.id}`);
    expect(new Set(keys).size).toBe(keys.length);
  });
});
