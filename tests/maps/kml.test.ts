/** KML 2.2 (OGC 07-147r2) and KMZ: placemarks by their names; bad files named, nothing unfolded. */
import { strToU8, zipSync } from "fflate";
import { beforeEach, describe, expect, it } from "vitest";
import type { MapRehearsal } from "../../core/operations/subjects/maps.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";

let plant: TestPlant;
beforeEach(async () => {
  plant = await newPlant();
  await plant.run("record.add", { kind: "space", values: { tag: "MH-1", kind: "maintenance_hole" } });
});

const kml = (...placemarks: string[]) =>
  `<?xml version="1.0" encoding="UTF-8"?>
<kml xmlns="http://www.opengis.net/kml/2.2"><Document><Style id="s"><LineStyle><width>4</width></LineStyle></Style>
${placemarks.map((one) => `<Placemark><styleUrl>#s</styleUrl>${one}</Placemark>`).join("\n")}</Document></kml>`;
const HOLE = "<name>MH-1</name><Point><coordinates>-38.6,41.9,12</coordinates></Point>";
const WAY = `<name>DB-1</name><ExtendedData><Data name="length_m"><value>120</value></Data></ExtendedData>
<LineString><coordinates>-38.6,41.9 -38.601,41.901</coordinates></LineString>`;
const HALL = `<name>MIL</name><Polygon><outerBoundaryIs><LinearRing><coordinates>
-38.6,41.9 -38.599,41.9 -38.599,41.901 -38.6,41.9</coordinates></LinearRing></outerBoundaryIs></Polygon>`;
const rehearsed = (input: object) => plant.run<MapRehearsal>("map.rehearse", input);

describe("KML", () => {
  it("reads points, lines and outlines, with what stands beside them", async () => {
    const answer = await rehearsed({ text: kml(HOLE, WAY, HALL), name: "site.kml" });
    expect([answer.form, answer.unknown]).toEqual(["KML", []]);
    expect(answer.fates.map(({ record, kind, fate }) => [record, kind, fate])).toEqual([
      ["MH-1", "space", "changed"],
      ["DB-1", "pathway", "new"],
      ["MIL", "building", "new"],
    ]);
    await plant.run("map.import", { text: kml(HOLE, WAY, HALL) });
    const rows = (sql: string) => plant.store.read((reader) => reader.rows(sql));
    expect(await rows("select length_m, geometry from pathway")).toEqual([
      { length_m: 120, geometry: "[[-38.6,41.9],[-38.601,41.901]]" },
    ]);
    expect(await rows("select longitude, latitude from space")).toEqual([{ longitude: -38.6, latitude: 41.9 }]);
  });

  it("says of a placemark without a name that its tag is missing, and of one without a place that it tells too little", async () => {
    const nameless = "<Point><coordinates>-38.6,41.9</coordinates></Point>";
    const { fates } = await rehearsed({ text: kml(nameless, "<name>MH-2</name>", "<name>MH-1</name>") });
    expect(fates[0]?.problems).toEqual([{ row: 1, record: "feature 1", field: "tag", reason: "is missing" }]);
    expect(fates[1]?.problems[0]?.reason).toMatch(/it can't be told what this is$/);
    expect(fates[2]).toMatchObject({ record: "MH-1", fate: "same" });
  });

  it("reads the first KML of a KMZ", async () => {
    const bytes = zipSync({ "files/a.png": new Uint8Array([1]), "doc.kml": strToU8(kml(HOLE)) });
    const answer = await rehearsed({ content: Buffer.from(bytes).toString("base64"), name: "site.kmz" });
    expect(answer.fates[0]).toMatchObject({ record: "MH-1", fate: "changed" });
  });
});

describe("a file that isn't one", () => {
  const said = async (input: object) => {
    const reply = await plant.call("map.rehearse", { name: "x.kml", ...input });
    return reply.ok ? "read" : reply.error.problems[0]?.reason;
  };
  it("is refused in words", async () => {
    expect(await said({ text: "<kml><Placemark></kml>" })).toMatch(/./);
    expect(await said({ text: "<svg xmlns='http://www.w3.org/2000/svg'/>" })).toBe("begins with svg, not kml");
    expect(await said({ text: "   " })).toBe("holds nothing");
    const zip = (files: Record<string, Uint8Array>) => ({ content: Buffer.from(zipSync(files)).toString("base64") });
    expect(await said(zip({ "a.txt": strToU8("x") }))).toBe("is an archive without a KML file in it");
    expect(await said({ content: Buffer.from("PK\u0003\u0004rest").toString("base64") })).toMatch(/^can't be unpacked/);
  });

  it("says where it is no XML, in plain words", async () => {
    const reason = async (text: string) => {
      const reply = await plant.call("map.rehearse", { text, name: "site.kml" });
      return reply.ok ? null : reply.error.problems[0]?.reason;
    };
    expect(await reason("<kml><Document>")).toBe("ends before these elements are closed: kml, Document; is it whole?");
    expect(await reason("<kml>\n\n<Document></Placemark></kml>")).toBe("can't be parsed as XML from line 3 on");
  });

  it("may define nothing that unfolds", async () => {
    const bomb = `<!DOCTYPE kml [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>${kml("<name>&b;</name>")}`;
    expect(await said({ text: `<?xml version="1.0"?>${bomb}` })).toMatch(/document type definition/);
  });

  it("is refused before it is unpacked when it would be too big", async () => {
    // 80 million zeros pack into less than a hundred kB.
    const bytes = zipSync({ "doc.kml": new Uint8Array(80_000_000) }, { level: 9 });
    expect(bytes.length).toBeLessThan(200_000);
    expect(await said({ content: Buffer.from(bytes).toString("base64") })).toMatch(/^unpacks to 80 million bytes/);
  });
});
