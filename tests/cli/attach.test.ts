/** `strandbook attach` and `strandbook attachments`: kept, listed, written out again. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { exif, jpeg, png } from "../attachments/files.ts";
import { newFolder } from "../support/plant.ts";
import { cli, newFile } from "./support.ts";

describe("strandbook attach", () => {
  it("keeps photos with a record, lists them, and writes them out beside each other", async () => {
    const file = await newFile();
    const building = JSON.stringify({ kind: "building", values: { tag: "LIB" } });
    expect((await cli(["run", file, "record.add", "--input", building])).code).toBe(0);
    const folder = newFolder();
    const [one, two] = [join(folder, "a.jpg"), join(folder, "b.png")];
    writeFileSync(one, jpeg(exif("2025:06:01 10:00:00")));
    writeFileSync(two, png(9, 9));
    expect((await cli(["attach", file, "LIB", one, "--caption", "north wall"])).code).toBe(0);
    expect((await cli(["attach", file, "LIB", two, "--taken-on", "2025-07-01", "--taken-by", "M. Tarrow"])).code).toBe(
      0,
    );
    expect((await cli(["attach", file, "LIB", two])).code).toBe(1);
    const told = await cli(["attachments", file, "LIB"], { columns: 200 });
    expect(told.out).toMatch(/a\.jpg +image\/jpeg +1 +2025-06-01 +north wall/);
    const out = newFolder();
    await cli(["attachments", file, "LIB", "--save", out]);
    await cli(["attachments", file, "LIB", "--save", out]);
    expect(readFileSync(join(out, "b.png"))).toEqual(png(9, 9));
    expect(existsSync(join(out, "b (2).png"))).toBe(true);
    expect((await cli(["attachments", file, "LIB", "--save", join(out, "nowhere")])).code).toBe(2);
  });
});
