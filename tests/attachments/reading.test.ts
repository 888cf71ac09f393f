/** What a file is by its bytes, which day its camera says, and under which name it is kept. */
import exifr from "exifr";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fromBase64 } from "../../core/as-built/decode.ts";
import { toBase64 } from "../../core/attachments/base64.ts";
import { keptName } from "../../core/attachments/named.ts";
import { sniff } from "../../core/attachments/sniff.ts";
import { takenOn } from "../../core/attachments/taken.ts";
import { exif, jpeg, png } from "./files.ts";

const ascii = (text: string) => Buffer.from(text, "latin1");

describe("what a file is", () => {
  it("is told by its bytes, with the size of a picture", () => {
    expect(sniff(png(30, 20))).toEqual({
      media_type: "image/png",
      picture: true,
      fault: null,
      size: { width: 30, height: 20 },
    });
    expect(sniff(jpeg())).toMatchObject({
      media_type: "image/jpeg",
      picture: true,
      fault: null,
      size: { width: 8, height: 8 },
    });
    expect(sniff(ascii("GIF89a\x05\x00\x03\x00"))).toMatchObject({
      media_type: "image/gif",
      size: { width: 5, height: 3 },
    });
    expect(sniff(ascii("%PDF-1.7 ..."))).toMatchObject({ media_type: "application/pdf", picture: false });
  });
  it("is told of what other cameras and programs write, of which only WebP is drawn", () => {
    // RFC 9649, 2.7: width and height less one, in 24 bits each; the size in the head counts what follows it.
    const webp = Buffer.alloc(30);
    webp.write("RIFF", 0, "latin1");
    webp.writeUInt32LE(22, 4);
    webp.write("WEBPVP8X", 8, "latin1");
    webp.writeUIntLE(639, 24, 3);
    webp.writeUIntLE(479, 27, 3);
    expect(sniff(webp)).toEqual({
      media_type: "image/webp",
      picture: true,
      fault: null,
      size: { width: 640, height: 480 },
    });
    expect(sniff(webp.subarray(0, 29)).fault).toMatch(/cut off/);
    for (const [start, media_type] of [
      ["\0\0\0\x18ftypheic", "image/heif"],
      ["\0\0\0\x18ftypmif1", "image/heif"],
      ["\0\0\0\x18ftypavif", "image/heif"],
      ["II*\0", "image/tiff"],
      ["MM\0*", "image/tiff"],
      ["PK\x03\x04", "application/zip"],
      ["\0\x01\x02", "application/octet-stream"],
    ] as const)
      expect([start, sniff(ascii(start))]).toMatchObject([start, { media_type, picture: false, fault: null }]);
  });
  it("is never a picture when it is markup, whatever it is called", () => {
    for (const text of [
      "<svg xmlns='http://www.w3.org/2000/svg'><script>1</script></svg>",
      "<!doctype html><script>1</script>",
    ])
      expect(sniff(ascii(text))).toMatchObject({ media_type: "text/plain", picture: false });
  });
  it("says when a picture is cut off, damaged, or would fill the memory", () => {
    expect(sniff(png(30, 20).subarray(0, -12)).fault).toMatch(/cut off/);
    expect(sniff(jpeg().subarray(0, -2)).fault).toMatch(/cut off/);
    expect(sniff(Buffer.from([0xff, 0xd8, 0xff, 0xd9])).fault).toMatch(/damaged/);
    expect(sniff(png(1, 1, 0, [60_000, 60_000])).fault).toMatch(/^unfolds to 60000 by 60000 pixels/);
  });
  it("is told of any bytes without a fault of ours", () => {
    fc.assert(fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => sniff(bytes).media_type.length > 0));
    fc.assert(
      fc.property(fc.nat(200), fc.nat(255), (at, byte) => {
        const broken = Buffer.from(jpeg(exif("2025:06:01 10:00:00")));
        broken[2 + (at % (broken.length - 2))] = byte;
        sniff(broken);
        const day = takenOn(broken);
        return day === null || /^\d{4}-\d\d-\d\d$/.test(day);
      }),
    );
  });
});

describe("the day a camera says", () => {
  it.each([
    ["little-endian, its original moment", { little: true, original: true }],
    ["big-endian, its original moment", { little: false, original: true }],
    ["only the moment of the file", { little: true, original: false }],
  ])("is read as another reader reads it: %s", async (_name, form) => {
    const picture = jpeg(exif("2025:06:01 10:20:30", form));
    const theirs = await exifr.parse(picture, { reviveValues: false, pick: ["DateTimeOriginal", "ModifyDate"] });
    expect(theirs.DateTimeOriginal ?? theirs.ModifyDate).toBe("2025:06:01 10:20:30");
    expect(takenOn(picture)).toBe("2025-06-01");
  });
  it("is none where none is said, or what is said is no day", () => {
    expect(takenOn(jpeg())).toBeNull();
    expect(takenOn(jpeg(exif("0000:00:00 00:00:00")))).toBeNull();
    expect(takenOn(png(4, 4))).toBeNull();
  });
});

describe("the name a file is kept under", () => {
  it("is its last part, without what hides, turns or breaks it", () => {
    expect(keptName("C:\\Photos\\lid open.jpg")).toBe("lid open.jpg");
    expect(keptName("../../etc/passwd")).toBe("passwd");
    expect(keptName("photo\u202egpj.exe")).toBe("photogpj.exe");
    expect(keptName('a:b*?"<c>|d.png')).toBe("a-b-c-d.png");
    expect(keptName(" .hidden. ")).toBe("hidden");
    expect([keptName(""), keptName("///"), keptName("\u0000\u200b")]).toEqual(["file", "file", "file"]);
    expect(keptName(`${"x".repeat(400)}.jpg`)).toMatch(/^x{196}\.jpg$/);
  });
});

describe("base 64", () => {
  it("comes back as it was, as Node writes it", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 20_000 }), (bytes) => {
        const text = toBase64(bytes);
        expect(text).toBe(Buffer.from(bytes).toString("base64"));
        expect(fromBase64(text)).toEqual(bytes);
      }),
    );
  });
});
