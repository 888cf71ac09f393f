/**
 * What a file is, by its bytes and not by its name. Only pictures that a window draws by itself are ever shown; all
 * else is kept and handed out as it came. Signatures: PNG (W3C PNG 3rd ed., 5.2), JPEG (ITU-T T.81, annex B), GIF89a,
 * WebP (RFC 9649), PDF (ISO 32000-2, 7.5.2), ZIP (from memory), HEIF (ISO/IEC 23008-12, brands from memory).
 */
import { say } from "../words/say.ts";

export interface Sniffed {
  readonly media_type: string;
  /** It can be drawn in the window. */
  readonly picture: boolean;
  /** Why it is no sound file of that kind, as words that follow its name; null for a sound one. */
  readonly fault: string | null;
  /** In pixels; null where it isn't a picture that is drawn. */
  readonly size: { readonly width: number; readonly height: number } | null;
}

/** More would only fill the memory of whoever looks at it; the largest cameras make a quarter of this. */
const MOST_PIXELS = 400_000_000;

const ascii = (bytes: Uint8Array, from: number, to: number): string =>
  String.fromCharCode(...bytes.subarray(from, Math.min(to, bytes.length)));
const begins = (bytes: Uint8Array, ...first: number[]): boolean => first.every((byte, i) => bytes[i] === byte);
const u16 = (bytes: Uint8Array, at: number): number => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
const u32 = (bytes: Uint8Array, at: number): number => u16(bytes, at) * 65_536 + u16(bytes, at + 2);
const l16 = (bytes: Uint8Array, at: number): number => (bytes[at] ?? 0) | ((bytes[at + 1] ?? 0) << 8);
const l24 = (bytes: Uint8Array, at: number): number => l16(bytes, at) | ((bytes[at + 2] ?? 0) << 16);

const other = (media_type: string): Sniffed => ({ media_type, picture: false, fault: null, size: null });

export function sniff(bytes: Uint8Array): Sniffed {
  if (begins(bytes, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return png(bytes);
  if (begins(bytes, 0xff, 0xd8, 0xff)) return jpeg(bytes);
  if (/^GIF8[79]a/.test(ascii(bytes, 0, 6))) return drawn("image/gif", l16(bytes, 6), l16(bytes, 8));
  if (ascii(bytes, 0, 4) === "RIFF" && ascii(bytes, 8, 12) === "WEBP") return webp(bytes);
  if (ascii(bytes, 4, 8) === "ftyp" && /^(heic|heix|hevc|mif1|msf1|avif)/.test(ascii(bytes, 8, 12)))
    return other("image/heif");
  if (begins(bytes, 0x49, 0x49, 0x2a, 0) || begins(bytes, 0x4d, 0x4d, 0, 0x2a)) return other("image/tiff");
  if (ascii(bytes, 0, 5) === "%PDF-") return other("application/pdf");
  if (begins(bytes, 0x50, 0x4b, 3, 4)) return other("application/zip");
  // Text is never told apart further: what could be markup is only ever handed out, never shown.
  return other(bytes.length > 0 && isText(bytes) ? "text/plain" : "application/octet-stream");
}

function isText(bytes: Uint8Array): boolean {
  for (const byte of bytes.subarray(0, 4096)) if (byte < 9 || (byte > 13 && byte < 32)) return false;
  return true;
}

function drawn(media_type: string, width: number, height: number, cut = false): Sniffed {
  const fault =
    width === 0 || height === 0
      ? say`has no size: it is damaged`
      : width * height > MOST_PIXELS
        ? say`unfolds to ${width} by ${height} pixels: more than can be looked at`
        : cut
          ? say`is cut off: its end is missing`
          : null;
  return { media_type, picture: true, fault, size: { width, height } };
}

function png(bytes: Uint8Array): Sniffed {
  if (ascii(bytes, 12, 16) !== "IHDR") return drawn("image/png", 0, 0);
  let at = 8;
  let ended = false;
  while (at + 12 <= bytes.length && !ended) {
    ended = ascii(bytes, at + 4, at + 8) === "IEND";
    at += 12 + u32(bytes, at);
  }
  return drawn("image/png", u32(bytes, 16), u32(bytes, 20), !ended);
}

/** Frames that hold the size: baseline, extended, progressive, lossless, each also in its arithmetic form. */
const FRAME = (marker: number): boolean =>
  marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;

function jpeg(bytes: Uint8Array): Sniffed {
  for (const { marker, at } of segments(bytes))
    if (FRAME(marker)) return drawn("image/jpeg", u16(bytes, at + 5), u16(bytes, at + 3), !ends(bytes));
  return drawn("image/jpeg", 0, 0);
}

/** Cameras put more behind the picture; its end must still be there. */
function ends(bytes: Uint8Array): boolean {
  for (let i = bytes.length - 2; i >= 2; i--) if (bytes[i] === 0xff && bytes[i + 1] === 0xd9) return true;
  return false;
}

export interface Segment {
  readonly marker: number;
  /** Where its length stands; what it holds begins two bytes further. */
  readonly at: number;
  readonly length: number;
}

/** The segments of a JPEG before its pixels. */
export function* segments(bytes: Uint8Array): Generator<Segment> {
  let at = 2;
  while (at + 4 <= bytes.length) {
    if (bytes[at] !== 0xff) return;
    const marker = bytes[at + 1] as number;
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const length = u16(bytes, at + 2);
    if (length < 2 || marker === 0xda || marker === 0xd9) return;
    yield { marker, at: at + 2, length };
    at += 2 + length;
  }
}

function webp(bytes: Uint8Array): Sniffed {
  const form = ascii(bytes, 12, 16);
  const cut = bytes.length < 8 + l16(bytes, 4) + l16(bytes, 6) * 65_536;
  if (form === "VP8X") return drawn("image/webp", 1 + l24(bytes, 24), 1 + l24(bytes, 27), cut);
  if (form === "VP8 ") return drawn("image/webp", l16(bytes, 26) & 0x3fff, l16(bytes, 28) & 0x3fff, cut);
  if (form !== "VP8L") return drawn("image/webp", 0, 0);
  const [a = 0, b = 0, c = 0, d = 0] = bytes.subarray(21, 25);
  return drawn("image/webp", 1 + (((b & 0x3f) << 8) | a), 1 + (((d & 0xf) << 10) | (c << 2) | (b >> 6)), cut);
}

/** Names that promise a picture. */
export const CLAIMS_PICTURE = /\.(jpe?g|png|gif|webp)$/i;
