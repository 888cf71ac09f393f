/** `strandbook locate`: a reading as words and options, the answer as text and as JSON. */
import { beforeAll, describe, expect, it } from "vitest";
import { type Located, route, shownAt } from "../locate/route.ts";
import { cli } from "./support.ts";

let file = "";
beforeAll(async () => {
  const plant = await route([
    {
      tag: "F-1",
      stops: [
        { space: "A", from: 1000, out: 1005 },
        { space: "H1", in: 1405, to: 1415 },
      ],
    },
    {
      tag: "F-2",
      stops: [
        { space: "H1", from: 9000, out: 8990 },
        { space: "Z", in: 8590, to: 8580 },
      ],
    },
  ]);
  await plant.close();
  file = plant.path;
});

const port = "A/PA:01";
const seen = String(shownAt(415 + 100, 3));
const plain = (text: string): string => text.replace(/[\s\u202f]+/g, " ");

describe("strandbook locate", () => {
  it("answers place, band with terms, and candidates as JSON", async () => {
    const { code, json } = await cli(["locate", file, port, "--distance", seen, "--index", "1.4682", "--json"]);
    expect(code).toBe(0);
    const { where, band, readings } = json<Located>();
    expect(where.cable?.tag).toBe("F-2");
    expect(where.mark?.value).toBeCloseTo(8900, 1);
    expect(band.terms.length).toBeGreaterThan(3);
    for (const { source } of band.terms) expect(source.length).toBeGreaterThan(10);
    expect(readings).toHaveLength(1);
  });
  it("prints them for people, with what the time was spent on", async () => {
    const { out } = await cli(["locate", file, port, "--distance", `${seen}m`, "--index", "1.4682"]);
    const text = plain(out);
    expect(text).toContain("F-2 between H1 and Z: 90 m from H1, mark 8 990 m and 310 m from Z, mark 8 590 m");
    expect(text).toContain("scale of the marks of F-2");
    expect(text).toMatch(/stub of F-1:1 in its tray at H1 1\.3 m/);
    expect(text).toContain("Note: Only the first break is seen from this end");
    expect(text).toContain("Caution: Before digging have all owners mark the ground");
  });
  it("takes time, launch cord, front panel, spacing, wavelength, known events and further readings", async () => {
    const launched = String(shownAt(415 + 100, 3) + 150);
    const words = ["--launch-m", "150", "--spacing-m", "0.16", "--wavelength", "1550nm", "--front-panel-m", "0"];
    const known = ["--known", `H1/CL=${shownAt(415, 2) + 150}m; end=${shownAt(415 + 420, 4) + 150}`];
    const one = await cli([
      "locate",
      file,
      port,
      "--distance",
      launched,
      "--index",
      "1.4682",
      ...words,
      ...known,
      "--json",
    ]);
    expect(one.json<Located>().where.mark?.value).toBeCloseTo(8900, 1);
    expect(one.json<Located>().readings[0]?.conventions.join()).toContain("launch cord of 150 m");
    const time = (shownAt(415 + 100, 3) * 1.4682 * 2) / 299.792458;
    const two = await cli([
      "locate",
      file,
      port,
      "--time-us",
      `${time}us`,
      "--and",
      `Z/PZ:01=${shownAt(320)}`,
      "--json",
    ]);
    const { where, readings } = two.json<Located>();
    expect(where.mark?.value).toBeCloseTo(8900, 0);
    expect(readings.map(({ words: said }) => said.replace(/^[\d.]+/, ""))).toEqual([
      " µs round trip from A/PA:01",
      " m from Z/PZ:01",
    ]);
  });
  it("refuses in words what it can't read", async () => {
    const refused = async (...words: string[]) => {
      const { code, notes } = await cli(["locate", file, ...words]);
      return [code, plain(notes)];
    };
    expect(await refused(port)).toEqual([1, expect.stringContaining("has neither a distance nor a time")]);
    expect(await refused(port, "--distance", "0")).toEqual([1, expect.stringContaining("is 0 m")]);
    expect(await refused(port, "--distance", "-3")).toEqual([1, expect.stringContaining("is -3 m")]);
    expect(await refused("Q/P:1", "--distance", "3")).toEqual([1, expect.stringContaining("Q/P:1")]);
    expect(await refused(port, "--distance", "far")).toEqual([2, expect.stringContaining("--distance is a number")]);
    expect(await refused(port, "--distance", "3", "--index", "3")).toEqual([1, expect.stringContaining("is above 2")]);
    expect(await refused(port, "--distance", "3", "--known", "H1")).toEqual([
      2,
      expect.stringContaining("--known is such as"),
    ]);
  });
});
