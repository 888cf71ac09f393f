/** Archives with sizes of 64 bits (APPNOTE.TXT 4.3.14, 4.3.15 and 4.5.3), as programs write them that stream a workbook. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { newFolder } from "../support/plant.ts";
import { sheetFile, sheetPlant } from "./plant.ts";

const CHILD = fileURLToPath(new URL("hostile-child.ts", import.meta.url));
const SHEET = `<worksheet><sheetData><row r="1"><c r="A1" t="str"><v>label on</v></c></row><row r="2"><c r="A2" t="str"><v>LIB</v></c></row></sheetData></worksheet>`;
const PARTS = {
  "xl/workbook.xml": strToU8('<workbook><sheets><sheet name="S" sheetId="1" r:id="r1"/></sheets></workbook>'),
  "xl/_rels/workbook.xml.rels": strToU8(
    '<Relationships><Relationship Id="r1" Target="worksheets/a.xml"/></Relationships>',
  ),
  "xl/worksheets/a.xml": strToU8(SHEET),
};

interface Lie {
  /** Added to every unpacked size. */
  readonly more?: number;
  /** The directory's end says that it is one of 64 bits too. */
  readonly end?: boolean;
  /** Sizes are said to stand elsewhere, and stand nowhere. */
  readonly nowhere?: boolean;
}

/** The archive with the sizes and the offset of every part in a field of 64 bits, written from its own directory. */
function widened(zip: Uint8Array, { more = 0, end = false, nowhere = false }: Lie = {}): Uint8Array {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  const last = zip.length - 22;
  const [count, from] = [view.getUint16(last + 10, true), view.getUint32(last + 16, true)];
  const pieces: Uint8Array[] = [zip.subarray(0, from)];
  let at = from;
  for (let part = 0; part < count; part++) {
    const named = view.getUint16(at + 28, true);
    const entry = Uint8Array.from(zip.subarray(at, at + 46 + named));
    const own = new DataView(entry.buffer);
    const extra = new DataView(new ArrayBuffer(28));
    extra.setUint16(0, nowhere ? 9 : 1, true);
    extra.setUint16(2, 24, true);
    extra.setBigUint64(4, BigInt(own.getUint32(24, true) + more), true);
    extra.setBigUint64(12, BigInt(own.getUint32(20, true)), true);
    extra.setBigUint64(20, BigInt(own.getUint32(42, true)), true);
    for (const field of [20, 24, 42]) own.setUint32(field, 0xffffffff, true);
    own.setUint16(30, 28, true);
    pieces.push(entry, new Uint8Array(extra.buffer));
    at += 46 + named + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  const size = pieces.slice(1).reduce((sum, { length }) => sum + length, 0);
  if (end) {
    const record = new DataView(new ArrayBuffer(56 + 20));
    record.setUint32(0, 0x06064b50, true);
    record.setBigUint64(4, 44n, true);
    for (const field of [24, 32]) record.setBigUint64(field, BigInt(count), true);
    record.setBigUint64(40, BigInt(size), true);
    record.setBigUint64(48, BigInt(from), true);
    record.setUint32(56, 0x07064b50, true);
    record.setBigUint64(64, BigInt(from + size), true);
    record.setUint32(72, 1, true);
    pieces.push(new Uint8Array(record.buffer));
  }
  const closing = Uint8Array.from(zip.subarray(last));
  const own = new DataView(closing.buffer);
  own.setUint32(12, size, true);
  own.setUint32(16, end ? 0xffffffff : from, true);
  if (end) for (const field of [8, 10]) own.setUint16(field, 0xffff, true);
  pieces.push(closing);
  return Uint8Array.from(pieces.flatMap((piece) => [...piece]));
}

describe("a workbook whose sizes are written in 64 bits", () => {
  it.each([{ end: false }, { end: true }])("is read, whatever its end says: %o", async (lie) => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "streamed.xlsx", widened(zipSync(PARTS), lie));
    expect(await plant.run("sheet.read", { file })).toMatchObject({ rows: 1, shape: "labels" });
  });

  it("is refused by its true claim where it would unpack to more than is read, in bounded memory", () => {
    const file = sheetFile({ folder: newFolder() } as never, "big.xlsx", widened(zipSync(PARTS), { more: 2 ** 33 }));
    const plant = join(newFolder(), "p.strandbook");
    const out = execFileSync(process.execPath, [CHILD, plant, file], { encoding: "utf8" });
    const said = JSON.parse(out.trim().split("\n").at(-1) ?? "{}");
    expect(said).toMatchObject({
      code: "file",
      problems: [{ reason: "unpacks to 25770 million bytes; at most 268 are read" }],
    });
    expect(said.megabytes).toBeLessThan(100);
  });

  it("is refused as damaged where a size stands nowhere", async () => {
    const plant = await sheetPlant();
    const file = sheetFile(plant, "torn.xlsx", widened(zipSync(PARTS), { nowhere: true }));
    const reply = await plant.call("sheet.read", { file });
    expect(reply).toMatchObject({ error: { code: "file", message: "torn.xlsx is damaged." } });
  });

  it("is refused with its reason where a part is locked by a password", async () => {
    const plant = await sheetPlant();
    const zip = zipSync(PARTS);
    const view = new DataView(zip.buffer);
    for (let at = 0; at + 4 < zip.length; at++) if (view.getUint32(at, true) === 0x02014b50) zip[at + 8] = 1;
    const reply = await plant.call("sheet.read", { file: sheetFile(plant, "locked.xlsx", zip) });
    expect(reply).toMatchObject({
      error: { code: "file", problems: [{ reason: "is encrypted; save it without a password" }] },
    });
  });
});
