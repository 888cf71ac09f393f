/** What a packet says of the marks and coils beside a cut where the record knows only a part of them; on the demo campus. */
import { expect, it } from "vitest";
import type { Packet } from "../../core/jobs/packet.ts";
import { packetDocument } from "../../core/jobs/packet-document.ts";
import { newSample } from "../support/made.ts";

/** The rows of the table of marks and coils, each as text. */
async function marksOf(cable: string): Promise<Map<string, readonly string[]>> {
  const plant = await newSample();
  await plant.run("job.plan_mend", { cable, between: ["LMP/ER", "MH-01"], job: "J-1" });
  const { blocks } = packetDocument(await plant.run<Packet>("job.packet", { job: "J-1" }), null, null);
  const table = blocks.find((block) => block.is === "table" && block.caption?.startsWith("Marks and coils"));
  if (table?.is !== "table") throw new Error("The packet has no table of marks.");
  return new Map(table.rows.map((row) => [String(row[0]), row.map((cell) => String(cell).replaceAll("\u202f", " "))]));
}

it("tells both coils of an opened cable together where only how the opening parts them is not known", async () => {
  // F-013 is opened at MH-09 without marks at the edges of its window: 2800 to 2849 ft are 14.9 m, less the way through.
  const [, , , coil, , known] = (await marksOf("F-013")).get("MH-09") ?? [];
  expect(coil).toBe("10 m in all");
  expect(known).toMatch(/; not on which side of its opening$/);
});

it("doesn't say that there are no marks where only their unit is not known", async () => {
  const [, mark_in, , , , known] = (await marksOf("F-019")).get("MH-01") ?? [];
  expect(mark_in).toBe("null");
  expect(known).toMatch(/^marks on record, but not whether they are metres or feet; seen /);
});
