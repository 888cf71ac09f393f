/** A kind's table on paper: every row that is filtered, in its order, however many. */
import { beforeAll, describe, expect, it } from "vitest";
import type { Document, TableBlock } from "../../core/paper/document.ts";
import { MOST_ROWS } from "../../core/sheets/table-paper.ts";
import { newPlant, type TestPlant } from "../support/plant.ts";
import { plain, printedBack } from "./case-plant.ts";

/** F-1 has 3,000 strands, F-2 has 9,000. */
let plant: TestPlant;
beforeAll(async () => {
  plant = await newPlant();
  for (const [tag, tubes] of [
    ["F-1", 250],
    ["F-2", 750],
  ] as const)
    await plant.run("cable.enter", {
      ...{ tag, colour_sequence: "tia_598", units: [{ kind: "tube", repeats: tubes, strands: 12, coating_um: "250" }] },
      stops: [{}, {}],
    });
});

const ofCable = (tag: string) => ({
  kind: "strand",
  columns: ["cable_id", "number", "colour", "condition"],
  filters: [{ field: "cable_id", test: "is", value: tag }],
  where: ` of ${tag}`,
});
const tableOf = ({ blocks }: Document): TableBlock => blocks.find((block) => block.is === "table") as TableBlock;

describe("a long table", () => {
  it("is printed whole, sorted as asked, beyond what a page of a browser holds", async () => {
    const document = await plant.run<Document>("paper.table", {
      ...ofCable("F-1"),
      sort: [{ field: "number", descending: true }],
    });
    const { rows } = tableOf(document);
    const numbers = rows.map((row) => Number(String(row[1]).replace(/\s/g, "")));
    expect(numbers).toEqual(Array.from({ length: 3000 }, (_, index) => 3000 - index));
  });

  it("has its heads again on each page, colours in words and code, and says which columns it left out as empty", async () => {
    const read = await printedBack(plant, "paper.table", { ...ofCable("F-1"), text: "F-1:1" });
    expect(read.pages.length).toBeGreaterThan(3);
    for (const { pieces } of read.pages.slice(0, -1)) expect(pieces.map(({ text }) => text)).toContain("cable");
    expect(plain(read.text)).toContain("tube 1 blue BL, strand 1 blue BL");
    // Before the rows, so that it never stands on a page by itself.
    const first = read.pages[0]?.pieces.map(({ text }) => text).join(" ") ?? "";
    expect(plain(first)).toMatch(/Empty in every row, and so left out: condition\..*cable/);
    expect(read.info.Title).toBe("Strands of F-1");
  });

  it("tells how far it is, and ends when it is told to", async () => {
    const told: (readonly [number, number | null])[] = [];
    const stop = new AbortController();
    const reply = await plant.session.dispatch(
      { name: "paper.table", input: ofCable("F-2") },
      {
        signal: stop.signal,
        onProgress: ({ done, total }) => {
          told.push([done, total]);
          if (done >= 2000) stop.abort();
        },
      },
    );
    expect(reply).toMatchObject({ ok: false, error: { code: "stopped" } });
    expect(told.slice(0, 2)).toEqual([
      [1000, 9000],
      [2000, 9000],
    ]);
    expect(told.length).toBeLessThan(9);
  });

  it("is refused with the number of rows where it is more than one paper takes", async () => {
    expect(MOST_ROWS).toBeLessThan(12_000);
    await expect(plant.run("paper.table", { kind: "strand", columns: ["number"] })).rejects.toMatchObject({
      failure: { code: "bad_input", problems: [{ field: "filters", reason: expect.stringContaining("12000 rows") }] },
    });
  });

  it("says so where nothing is like that", async () => {
    const { text } = await printedBack(plant, "paper.table", { ...ofCable("F-1"), text: "nowhere" });
    expect(plain(text)).toContain("No strand is like that.");
  });
});
