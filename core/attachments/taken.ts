/** The day on which a camera says that it took a picture: Exif (CIPA DC-008, 4.6), in a JPEG's APP1 segment. */
import { isDay } from "../model/check-values.ts";
import { segments } from "./sniff.ts";

const EXIF = [0x45, 0x78, 0x69, 0x66, 0, 0];
const DATE_TIME = 0x0132;
const EXIF_IFD = 0x8769;
const DATE_TIME_ORIGINAL = 0x9003;

/** `YYYY-MM-DD`, or null where none is said or what is said is no day. */
export function takenOn(bytes: Uint8Array): string | null {
  for (const { marker, at, length } of segments(bytes)) {
    if (marker !== 0xe1 || !EXIF.every((byte, i) => bytes[at + 2 + i] === byte)) continue;
    return dayIn(bytes.subarray(at + 2 + EXIF.length, at + length));
  }
  return null;
}

/** What is inside is a TIFF file of its own, in either order of bytes. */
function dayIn(tiff: Uint8Array): string | null {
  const little = tiff[0] === 0x49;
  const u16 = (at: number): number => {
    const [a = 0, b = 0] = tiff.subarray(at, at + 2);
    return little ? a | (b << 8) : (a << 8) | b;
  };
  const u32 = (at: number): number => (little ? u16(at) + u16(at + 2) * 65_536 : u16(at) * 65_536 + u16(at + 2));
  if (u16(2) !== 42) return null;
  /** Where the value of a field of a directory stands. */
  const find = (directory: number, tag: number): number | null => {
    if (directory < 8 || directory + 2 > tiff.length) return null;
    const count = Math.min(u16(directory), 512);
    for (let i = 0; i < count; i++) {
      const entry = directory + 2 + 12 * i;
      if (entry + 12 <= tiff.length && u16(entry) === tag) return entry + 8;
    }
    return null;
  };
  const text = (entry: number | null): string | null => {
    if (entry === null) return null;
    const from = u32(entry);
    return String.fromCharCode(...tiff.subarray(from, from + 10));
  };
  const first = u32(4);
  const inner = find(first, EXIF_IFD);
  const original = inner === null ? null : text(find(u32(inner), DATE_TIME_ORIGINAL));
  const said = original ?? text(find(first, DATE_TIME));
  const day = said?.replaceAll(":", "-") ?? "";
  return isDay(day) ? day : null;
}
