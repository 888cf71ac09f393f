/** Papers of answers that the program gives anyway: nothing of the answer is lost on the way to the paper. */
import fc from "fast-check";
import { beforeAll, describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import type { LossAnswer } from "../../core/light/answer.ts";
import type { Block, Cell, Document, TableBlock } from "../../core/paper/document.ts";
import { laySection, type SectionGroup } from "../../core/paper/section.ts";
import { feedSheetDocument } from "../../core/sheets/feed-sheet.ts";
import type { Branch, TraceAnswer } from "../../core/trace/answer.ts";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import { newCampus } from "../journeys/support/campus.ts";
import type { TestPlant } from "../support/plant.ts";
import { at, plain, printedBack } from "./case-plant.ts";

let plant: TestPlant;
beforeAll(async () => {
  plant = await newCampus();
});

const tables = ({ blocks }: { readonly blocks: readonly Block[] }): TableBlock[] =>
  blocks.filter((block) => block.is === "table");
const words = (cell: Cell | undefined): string =>
  Array.isArray(cell) ? cell.map((one) => words(one)).join(" ") : typeof cell === "string" ? cell : "";
const squeezed = (text: string): string => text.replace(/\s+/g, "");
/** `1-3,7` as numbers. */
const numbersIn = (list: string): number[] =>
  list.split(",").flatMap((run) => {
    const [from = 0, to = from] = run.replace(/#.*$/, "").split("-").map(Number);
    return Array.from({ length: to - from + 1 }, (_, index) => from + index);
  });

describe("a trace sheet", () => {
  it("has every hop of every line in its order, and the line drawn through its places from left to right", async () => {
    const trace = await plant.run<TraceAnswer>("trace.walk", { what: "LIB/2A/P1:13" });
    const read = await printedBack(plant, "paper.trace_sheet", { what: "LIB/2A/P1:13" });
    const text = squeezed(read.text);
    expect(trace.lines.length).toBeGreaterThan(1);
    let from = 0;
    for (const { asked, hops } of trace.lines) {
      from = text.indexOf(squeezed(`: ${asked}`), from);
      expect([asked, from > 0]).toEqual([asked, true]);
      for (const { record } of hops) {
        const found = text.indexOf(squeezed(record.tag), from);
        expect([record.tag, found >= from]).toEqual([record.tag, true]);
      }
    }
    const drawn = read.pages.find(({ text: own }) => own.includes("○ coil"));
    const strands = trace.lines[0]?.hops.filter(({ kind }) => kind === "strand") ?? [];
    const lefts = strands.map(({ record }) => at(drawn, record.tag).left);
    expect(lefts.length).toBeGreaterThan(1);
    expect(lefts).toEqual(lefts.toSorted((a, b) => a - b));
  });

  it("tells the loss that the loss page tells, term by term, with a source for each", async () => {
    const loss = await plant.run<LossAnswer>("light.loss", { what: "LIB/2A/P1:13" });
    const document = await plant.run<Document>("paper.trace_sheet", { what: "LIB/2A/P1:13" });
    const [table] = tables(document).filter(({ caption }) => caption?.startsWith("Loss as a"));
    const losses = loss.lines[0]?.losses ?? [];
    expect(losses.length).toBeGreaterThan(0);
    expect(table?.rows.length).toBe(losses.reduce((sum, { terms }) => sum + terms.length, 0));
    const heads = table?.rows.filter(([wavelength]) => wavelength !== "").map(([nm, db]) => [nm, db]);
    expect(heads).toEqual(
      losses.map(({ wavelength_nm, loss_db }) => [
        `${wavelength_nm} nm`,
        loss_db === null ? "not known" : `${Math.round(loss_db * 1000) / 1000} dB`,
      ]),
    );
    for (const [, , , , , source] of table?.rows ?? []) expect(words(source)).not.toBe("");
  });

  it("draws the places that the cable passes, each with its coil, and the leg between them", async () => {
    const what = "F-033:1";
    const document = await plant.run<Document>("paper.trace_sheet", { what });
    const [line] = document.blocks.filter((block) => block.is === "line");
    const sheet = await plant.run<CableAnswer>("cable.show", { cable: "F-033" });
    const { stops = [], legs = [] } = line?.drawing ?? {};
    const drawn = new Map(stops.map(({ name, coil_m }) => [name, coil_m]));
    const passed = sheet.stops.filter(({ place, kind }) => kind === "passing" && drawn.has(place.space?.tag ?? ""));
    expect(passed.length).toBeGreaterThan(0);
    for (const { place, coil_m } of passed) expect(drawn.get(place.space?.tag ?? "")).toBe(coil_m);
    expect(legs).toHaveLength(stops.length - 1);
  });

  it("shows every branch of a splitter to its end", async () => {
    const ports = await plant.run<{ rows: { address: string }[] }>("record.window", { kind: "module", limit: 1 });
    const [module] = ports.rows;
    const what = `${module?.address}:IN`;
    const trace = await plant.run<TraceAnswer>("trace.walk", { what });
    const leaves = (branch: Branch): Branch[] =>
      branch.branches.length === 0 ? [branch] : branch.branches.flatMap(leaves);
    const all = trace.lines.flatMap(({ root, behind }) => [...leaves(root), ...(behind ? leaves(behind) : [])]);
    expect(all.length).toBeGreaterThan(2);
    const document = await plant.run<Document>("paper.trace_sheet", { what });
    const ends = document.blocks.filter((block) => block.is === "paragraph" && block.text.startsWith("Ends: "));
    expect(ends).toHaveLength(all.length);
  });
});

describe("a feed sheet", () => {
  it("accounts for each strand of each cable exactly once, in the state that the answer gives it", async () => {
    const feeds = await plant.run<FeedsAnswer>("feeds.of", { what: "KLN" });
    const document = await plant.run<Document>("paper.feed_sheet", { place: "KLN" });
    for (const { cable, strands } of feeds.cables.filter((one) => one.strands.length > 0)) {
      const table = tables(document).find(({ caption }) => caption?.startsWith(`Strands of ${cable.tag} `));
      const shown = (table?.rows ?? []).flatMap((row) =>
        numbersIn(words(row[1])).map((number) => `${number} ${words(row[3]).split(" ")[0]}`),
      );
      const STATES: Record<string, string> = { in_service: "in", assigned_twice: "assigned", unknown: "not" };
      expect([cable.tag, shown]).toEqual([
        cable.tag,
        strands.map(({ number, state }) => `${number} ${STATES[state] ?? state}`),
      ]);
    }
    expect(feeds.total).toBeGreaterThan(100);
  });

  it("counts thousands in its tables as in its sentence: set apart by a narrow space", async () => {
    const feeds = await plant.run<FeedsAnswer>("feeds.of", { what: "KLN" });
    const many = { ...feeds, counts: { ...feeds.counts, spare: 1208 } };
    const title = { what: "", plant: "", made_on: "2026-05-01", revision: null, content: null, who: null, code: null };
    const [byEntrance] = tables(feedSheetDocument(many, "m", title));
    expect(byEntrance?.rows.at(-1)).toContain("1\u202f208");
  });

  it("says what feeds in one sentence, by entrance, and heads each page of its long tables again", async () => {
    const feeds = await plant.run<FeedsAnswer>("feeds.of", { what: "KLN" });
    const read = await printedBack(plant, "paper.feed_sheet", { place: "KLN" });
    expect(plain(read.text)).toContain(plain(feeds.sentence));
    for (const { place } of feeds.entrances) expect(read.text).toContain(place.space?.tag);
    const going = read.pages.slice(1, -1);
    expect(going.length).toBeGreaterThan(0);
    for (const { text } of going) expect(text).toContain("Far end");
  });
});

describe("a cable sheet", () => {
  it("draws its stops in order, says marks as printed, and lists each strand once", async () => {
    const cable = await plant.run<CableAnswer>("cable.show", { cable: "F-033" });
    const read = await printedBack(plant, "paper.cable_sheet", { cable: "F-033" });
    const page = read.pages.find(({ text }) => text.includes("F-033: "));
    const names = cable.stops.map(({ place }) => place.space?.tag ?? "");
    const lefts = names.map((name) => at(page, name).left);
    expect(lefts).toEqual(lefts.toSorted((a, b) => a - b));
    const document = await plant.run<Document>("paper.cable_sheet", { cable: "F-033" });
    const strands = tables(document).filter(({ columns }) => columns.some(({ head }) => head === "Its colours"));
    const numbers = strands.flatMap(({ rows }) => rows.map((row) => Number(words(row[1]))));
    expect(numbers).toEqual(cable.units.flatMap((unit) => unit.strands.map(({ number }) => number)));
    expect(numbers).toHaveLength(cable.strands);
    expect(cable.mark_unit).toBe("ft");
    expect(tables(document)[0]?.rows.some((row) => words(row[4]).endsWith(" ft"))).toBe(true);
  });

  it("says of a strand that is cut what each of its parts does, from where to where", async () => {
    const cable = await plant.run<CableAnswer>("cable.show", { cable: "F-033" });
    await plant.run("cable.open", { cable: "F-033", stop: cable.stops[1]?.record.tag, cut: "5" });
    const [from, , to] = cable.stops.map(({ place }) => place.space?.tag);
    const { text } = await printedBack(plant, "paper.cable_sheet", { cable: "F-033" });
    expect(squeezed(text)).toContain(squeezed(`${from} to ${cable.stops[1]?.place.space?.tag}:`));
    expect(to).toBeDefined();
    await plant.run("history.undo", {});
  });

  it("keeps all that lies in a cable within its sheath, tubes beside each other", () => {
    const unit = fc.record({
      ribbon: fc.boolean(),
      fill: fc.constant(null),
      strands: fc.array(fc.constant(null), { minLength: 1, maxLength: 24 }),
    });
    const group: fc.Arbitrary<SectionGroup> = fc.record({
      name: fc.constant("1 BL"),
      fill: fc.constant(null),
      units: fc.array(unit, { minLength: 1, maxLength: 8 }),
    });
    fc.assert(
      fc.property(fc.array(group, { minLength: 1, maxLength: 24 }), (groups) => {
        const R = 60;
        const laid = laySection({ cable: "F-1", diameter_mm: null, armoured: false, groups }, R, R + 6);
        for (const { x, y, r } of [...laid.tubes, ...laid.strands])
          expect(Math.hypot(x, y) + r).toBeLessThanOrEqual(R + 1e-6);
        // The corner of a flat that lies farthest out.
        for (const { x, y, width, height } of laid.flats)
          expect(Math.hypot(Math.abs(x) + width / 2, Math.abs(y) + height / 2)).toBeLessThanOrEqual(R + 1e-6);
      }),
    );
  });
});
