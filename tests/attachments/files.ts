/** Small real files: pictures made byte by byte, as their standards have them. */
import { deflateSync } from "node:zlib";

const chunk = (type: string, data: Buffer): Buffer => {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const head = Buffer.alloc(4);
  head.writeUInt32BE(data.length);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(body));
  return Buffer.concat([head, body, check]);
};

/** CRC of PNG (ISO 3309), bit by bit. */
function crc32(bytes: Buffer): number {
  let crc = 0xffffffff;
  for (const byte of bytes) {
    crc ^= byte;
    for (let bit = 0; bit < 8; bit++) crc = crc & 1 ? (crc >>> 1) ^ 0xedb88320 : crc >>> 1;
  }
  return (crc ^ 0xffffffff) >>> 0;
}

/** A grey picture; `claims` another size than it has. */
export function png(
  width: number,
  height: number,
  grey = 120,
  claims: readonly [number, number] = [width, height],
): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(claims[0], 0);
  head.writeUInt32BE(claims[1], 4);
  head.set([8, 0, 0, 0, 0], 8);
  const rows = Buffer.alloc((width + 1) * height, grey);
  for (let y = 0; y < height; y++) rows[y * (width + 1)] = 0;
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk("IHDR", head),
    chunk("IDAT", deflateSync(rows)),
    chunk("IEND", Buffer.alloc(0)),
  ]);
}

/** A baseline JPEG of 8 by 8 grey pixels (ITU-T T.81), with what is handed in behind its beginning. */
export function jpeg(...extra: Buffer[]): Buffer {
  const segment = (marker: number, ...data: number[]) =>
    Buffer.from([0xff, marker, (data.length + 2) >> 8, (data.length + 2) & 255, ...data]);
  return Buffer.concat([
    Buffer.from([0xff, 0xd8]),
    ...extra,
    segment(0xdb, 0, ...Array.from({ length: 64 }, () => 16)),
    segment(0xc0, 8, 0, 8, 0, 8, 1, 1, 0x11, 0),
    segment(0xc4, 0x00, 1, ...Array.from({ length: 15 }, () => 0), 0),
    segment(0xc4, 0x10, 1, ...Array.from({ length: 15 }, () => 0), 0),
    segment(0xda, 1, 1, 0x00, 0, 63, 0),
    Buffer.from([0x3f, 0xff, 0xd9]),
  ]);
}

/** An APP1 segment with Exif (CIPA DC-008): the moment the picture was taken, in either order of bytes. */
export function exif(moment: string, { little = true, original = true } = {}): Buffer {
  const tiff = Buffer.alloc(64);
  const u16 = (value: number, at: number) => (little ? tiff.writeUInt16LE(value, at) : tiff.writeUInt16BE(value, at));
  const u32 = (value: number, at: number) => (little ? tiff.writeUInt32LE(value, at) : tiff.writeUInt32BE(value, at));
  tiff.write(little ? "II" : "MM", 0, "latin1");
  u16(42, 2);
  u32(8, 4);
  u16(1, 8);
  if (original) {
    // The first directory holds a pointer to the second, which holds the moment.
    u16(0x8769, 10);
    u16(4, 12);
    u32(1, 14);
    u32(26, 18);
    u16(1, 26);
    u16(0x9003, 28);
    u16(2, 30);
    u32(20, 32);
    u32(44, 36);
  } else {
    u16(0x0132, 10);
    u16(2, 12);
    u32(20, 14);
    u32(44, 18);
  }
  tiff.write(`${moment}\0`, 44, "latin1");
  const body = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
  return Buffer.concat([Buffer.from([0xff, 0xe1, (body.length + 2) >> 8, (body.length + 2) & 255]), body]);
}
