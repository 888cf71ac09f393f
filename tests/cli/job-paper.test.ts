/** `strandbook job FILE JOB --out`: the packet as a PDF, read back with another reader (pdf.js). */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import type { Document } from "../../core/paper/document.ts";
import { line } from "../jobs/line.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { newFolder, newPlant } from "../support/plant.ts";
import { cli } from "./support.ts";

let file = "";
let packet: Packet;
beforeAll(async () => {
  const plant = await line();
  const cut = { cable: "F-050", after: "H-1", metres: 40, lost_left_m: 1, lost_right_m: 1 };
  const { plans } = await plant.run<{ plans: { new_holes: number }[] }>("mend.plans", cut);
  const plan = plans.findIndex(({ new_holes }) => new_holes === 1) + 1;
  await plant.run("job.plan_mend", { ...cut, plan, job: "J-1", hole: "H-9", cases: ["CL-1"], people: "Night crew" });
  await plant.run("job.enter", { job: "J-光", steps: [{ act: null, words: "Look at the hole." }] });
  packet = await plant.run<Packet>("job.packet", { job: "J-1" });
  await plant.close();
  file = plant.path;
});
const flat = (text: string): string => text.replace(/\s+/g, "");

describe("a job's packet", () => {
  it("has every step and every caution, and says where it is and how many pages it has", async () => {
    const out = join(newFolder(), "packet.pdf");
    const { code, out: said, notes } = await cli(["job", file, "J-1", "--out", out]);
    expect([code, notes]).toEqual([0, ""]);
    const read = await readPdf(readFileSync(out));
    expect(said).toContain(`Wrote ${out}: ${read.pages.length} pages`);
    expect(read.info.Title).toBe("Packet for job J-1");
    expect(packet.steps.length).toBeGreaterThan(5);
    for (const { words } of packet.steps) expect(flat(read.text)).toContain(flat(words));
    for (const text of packet.cautions) expect(flat(read.text)).toContain(flat(text));
    expect([read.pages[0]?.width, read.pages[0]?.height].map((points) => Math.round(points ?? 0))).toEqual([595, 842]);
  });
  it("comes on Letter where asked for, and tells itself as JSON", async () => {
    const out = join(newFolder(), "packet.pdf");
    const { json } = await cli(["job", file, "J-1", "--out", out, "--paper", "letter", "--json"]);
    const bytes = readFileSync(out);
    const { pages } = await readPdf(bytes);
    expect(json()).toEqual({ path: out, pages: pages.length, paper: "letter", bytes: bytes.length, missing: [] });
    expect([pages[0]?.width, pages[0]?.height]).toEqual([612, 792]);
  });
  it("is told as JSON without paper: every record, caution and step that the paper names", async () => {
    const plant = await newPlant({ path: file });
    const paper = await plant.run<Document>("job.print", { job: "J-1" });
    await plant.close();
    const { code, out, json } = await cli(["job", file, "J-1", "--json"]);
    expect([code, json()]).toMatchObject([
      0,
      { job: { tag: "J-1" }, open: packet.steps.length, packet: { state: "drafted" } },
    ]);
    // Addresses as they stand in the paper's tables: F-050:13, H-9/CL-1/T1, LIB/101/A:07.
    // What else enters a hole is drawn; a hole's own card tells it.
    const said = paper.blocks.filter(({ is }) => is !== "walls");
    const named = new Set(JSON.stringify(said).match(/"[A-Z][A-Z0-9]*[-/][A-Za-z0-9/:#.-]+"/g));
    expect(named.size).toBeGreaterThan(10);
    expect([...named].filter((tag) => !out.includes(tag))).toEqual([]);
    for (const text of packet.cautions) expect(out).toContain(text);
    for (const { words } of packet.steps) expect(out).toContain(JSON.stringify(words));
    expect(json()).toMatchObject({
      packet: {
        situation: JSON.parse(JSON.stringify(packet.situation)),
        light: JSON.parse(JSON.stringify(packet.light)),
      },
    });
  });
  it("says which characters the fonts lack", async () => {
    const out = join(newFolder(), "packet.pdf");
    const { code, notes } = await cli(["job", file, "J-光", "--out", out]);
    expect([code, notes]).toEqual([0, "The fonts lack 光; on the paper they stand by their codes.\n"]);
    expect((await readPdf(readFileSync(out))).text).toContain("J-[U+5149]");
  });
});

describe("a name that is taken", () => {
  it("is refused and stays as it was, unless an older PDF is to be replaced", async () => {
    const out = join(newFolder(), "packet.pdf");
    writeFileSync(out, "%PDF-1.7 older");
    const refused = await cli(["job", file, "J-1", "--out", out]);
    expect([refused.code, refused.notes]).toEqual([1, "packet.pdf exists already. Choose another name.\n"]);
    expect(readFileSync(out, "utf8")).toBe("%PDF-1.7 older");
    expect((await cli(["job", file, "J-1", "--out", out, "--replace"])).code).toBe(0);
    expect((await readPdf(readFileSync(out))).info.Title).toBe("Packet for job J-1");
    expect(readdirSync(dirname(out))).toEqual(["packet.pdf"]);
  });
  it("is never replaced when it isn't a PDF, least of all the plant itself", async () => {
    const before = readFileSync(file);
    const refused = await cli(["job", file, "J-1", "--out", file, "--replace"]);
    expect([refused.code, refused.notes]).toEqual([1, expect.stringContaining("is not a PDF, so it is not replaced")]);
    expect(readFileSync(file).equals(before)).toBe(true);
  });
  it("may be free with --replace as well", async () => {
    const out = join(newFolder(), "packet.pdf");
    expect((await cli(["job", file, "J-1", "--out", out, "--replace"])).code).toBe(0);
  });
});

describe("what can't be printed", () => {
  it.each([
    [["--out", "x.pdf"], "name it"],
    [["J-1", "--paper", "letter"], "--paper belongs to --out"],
    [["J-1", "--replace"], "--replace belongs to --out"],
    [["J-1", "--out", "x.pdf", "--paper", "a3"], '--paper is a4 or letter, not "a3"'],
  ])("%j is said to be no command", async (words, said) => {
    const { code, notes } = await cli(["job", file, ...words]);
    expect([code, notes]).toEqual([2, expect.stringContaining(said)]);
  });
  it("a job that isn't on record leaves no file", async () => {
    const folder = newFolder();
    const { code, notes } = await cli(["job", file, "J-77", "--out", join(folder, "x.pdf")]);
    expect([code, notes]).toEqual([1, expect.stringContaining("J-77")]);
    expect(readdirSync(folder)).toEqual([]);
  });
  it("a folder that isn't there is named", async () => {
    const { code, notes } = await cli(["job", file, "J-1", "--out", join(newFolder(), "no", "x.pdf")]);
    expect([code, notes]).toEqual([1, expect.stringContaining("There is no folder")]);
  });
});
