/**
 * A ZIP archive's parts by its directory, sizes of 64 bits included (APPNOTE.TXT 6.3.10). A part's own record decides how
 * its size is written: programs that stream a workbook write sizes of 64 bits without the directory's end saying so.
 */
import { inflateSync } from "fflate";

export interface ArchivePart {
  readonly name: string;
  /** Bytes in the archive. */
  readonly packed: number;
  /** Bytes it claims to unpack to. */
  readonly unpacked: number;
  readonly method: number;
  readonly encrypted: boolean;
  /** Where its own header stands. */
  readonly offset: number;
}

const END = 0x06054b50;
const END_64 = 0x06064b50;
const LOCATOR_64 = 0x07064b50;
const ENTRY = 0x02014b50;
const HEADER = 0x04034b50;
/** A size or offset that stands in the extra field instead. */
const ELSEWHERE = 0xffffffff;
/** The end record, and the longest remark behind it. */
const END_SIZE = 22;
const LONGEST_REMARK = 0xffff;

const STORED = 0;
const DEFLATED = 8;

/** Its parts in the order of the directory; null where that can't be read. */
export function archiveParts(bytes: Uint8Array): ArchivePart[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    const { count, from } = directoryOf(view);
    const parts: ArchivePart[] = [];
    let at = from;
    while (parts.length < count) {
      if (view.getUint32(at, true) !== ENTRY) return null;
      const [named, extra, remark] = [28, 30, 32].map((field) => view.getUint16(at + field, true)) as [
        number,
        number,
        number,
      ];
      const begins = at + 46;
      const [unpacked, packed, offset] = sizesOf(view, at, begins + named, extra);
      // Names of workbooks and maps that are looked for are plain letters (ECMA-376 part 2, 6.2).
      const name = String.fromCharCode(...bytes.subarray(begins, begins + named));
      const encrypted = (view.getUint16(at + 8, true) & 1) === 1;
      parts.push({ name, packed, unpacked, method: view.getUint16(at + 10, true), encrypted, offset });
      at = begins + named + extra + remark;
    }
    return parts;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** @throws RangeError where it ends too soon */
function directoryOf(view: DataView): { readonly count: number; readonly from: number } {
  const last = view.byteLength - END_SIZE;
  let end = last;
  while (view.getUint32(end, true) !== END) {
    end -= 1;
    if (last - end > LONGEST_REMARK) throw new RangeError("no end of a directory");
  }
  const count = view.getUint16(end + 10, true);
  const from = view.getUint32(end + 16, true);
  const locator = end - 20;
  if (locator < 0 || view.getUint32(locator, true) !== LOCATOR_64) return { count, from };
  const end_64 = wide(view, locator + 8);
  if (view.getUint32(end_64, true) !== END_64) return { count, from };
  return { count: wide(view, end_64 + 32), from: wide(view, end_64 + 48) };
}

/** Unpacked size, packed size and offset: those of 64 bits stand in the extra field of id 1, in this order (4.5.3). */
function sizesOf(view: DataView, entry: number, extra: number, length: number): [number, number, number] {
  const short = [24, 20, 42].map((field) => view.getUint32(entry + field, true));
  if (!short.includes(ELSEWHERE)) return short as [number, number, number];
  for (let at = extra; at + 4 <= extra + length; at += 4 + view.getUint16(at + 2, true)) {
    if (view.getUint16(at, true) !== 1) continue;
    let next = at + 4;
    return short.map((size) => {
      if (size !== ELSEWHERE) return size;
      next += 8;
      return wide(view, next - 8);
    }) as [number, number, number];
  }
  throw new RangeError("a size that stands nowhere");
}

/** 64 bits; what no number holds exactly is larger than any file that is read. */
const wide = (view: DataView, at: number): number => Number(view.getBigUint64(at, true));

/**
 * A part's bytes, never more than it claims: what the archive holds beyond that is cut off.
 * @returns null where it is encrypted, packed in another way than workbooks are, or damaged
 */
export function unpackPart(bytes: Uint8Array, part: ArchivePart): Uint8Array | null {
  const { offset, packed, unpacked, method, encrypted } = part;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (encrypted || offset + 30 > bytes.length || view.getUint32(offset, true) !== HEADER) return null;
  const from = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  if (from + packed > bytes.length) return null;
  const held = bytes.subarray(from, from + packed);
  if (method === STORED) return held.slice(0, unpacked);
  if (method !== DEFLATED) return null;
  try {
    return inflateSync(held, { out: new Uint8Array(unpacked) });
  } catch {
    return null;
  }
}
