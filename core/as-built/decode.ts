/**
 * Bytes of a text file as text. What the file says of itself comes first: a byte-order mark, then the zero bytes of
 * UTF-16, then UTF-8 where every byte fits it, and windows-1252 for what is left, which any bytes fit.
 */
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";

export const ENCODINGS = { utf8: "UTF-8", utf16le: "UTF-16 LE", utf16be: "UTF-16 BE", cp1252: "windows-1252" } as const;
export type Encoding = keyof typeof ENCODINGS;

export function encodingOf(bytes: Uint8Array): Encoding {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return "utf16le";
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return "utf16be";
  const zeros = [0, 0];
  const some = Math.min(bytes.length, 4096);
  for (let i = 0; i < some; i++) if (bytes[i] === 0) zeros[i % 2] = (zeros[i % 2] ?? 0) + 1;
  const [even = 0, odd = 0] = zeros;
  if (odd > some / 8 && even < odd / 8) return "utf16le";
  if (even > some / 8 && odd < even / 8) return "utf16be";
  return utf8(bytes) === null ? "cp1252" : "utf8";
}

export function decoded(bytes: Uint8Array, encoding: Encoding): string {
  const text = textOf(bytes, encoding);
  return text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
}

function textOf(bytes: Uint8Array, encoding: Encoding): string {
  switch (encoding) {
    case "utf16le":
      return fromUnits(bytes.length >> 1, (i) => (bytes[2 * i] as number) | ((bytes[2 * i + 1] as number) << 8));
    case "utf16be":
      return fromUnits(bytes.length >> 1, (i) => ((bytes[2 * i] as number) << 8) | (bytes[2 * i + 1] as number));
    case "cp1252":
      return fromUnits(bytes.length, (i) => {
        const byte = bytes[i] as number;
        return byte >= 0x80 && byte < 0xa0 ? (CP1252[byte - 0x80] as number) : byte;
      });
    case "utf8":
      return (
        utf8(bytes) ??
        refuse("bad_input", say`The file isn't UTF-8.`, [
          { field: "encoding", reason: say`is not UTF-8; read it as windows-1252 or UTF-16` },
        ])
      );
  }
}

/** 0x80 to 0x9F of windows-1252 (WHATWG Encoding standard, index windows-1252). */
const CP1252 = [
  ...[0x20ac, 0x81, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8d],
  ...[0x017d, 0x8f, 0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a],
  ...[0x0153, 0x9d, 0x017e, 0x0178],
];

const LOT = 8192;

function fromUnits(count: number, unit: (index: number) => number): string {
  const parts: string[] = [];
  for (let from = 0; from < count; from += LOT) {
    const units = Array.from({ length: Math.min(LOT, count - from) }, (_, i) => unit(from + i));
    parts.push(String.fromCharCode(...units));
  }
  return parts.join("");
}

/** The text, or null where a byte doesn't fit: RFC 3629, overlong forms and surrogates refused. */
export function utf8(bytes: Uint8Array): string | null {
  const parts: string[] = [];
  const units = new Uint16Array(LOT + 2);
  let filled = 0;
  for (let i = 0; i < bytes.length; ) {
    const lead = bytes[i] as number;
    if (lead < 0x80) {
      units[filled++] = lead;
      i += 1;
    } else {
      const code = codeAt(bytes, i);
      if (code === null) return null;
      if (code < 0x10000) units[filled++] = code;
      else {
        units[filled++] = 0xd800 + ((code - 0x10000) >> 10);
        units[filled++] = 0xdc00 + ((code - 0x10000) & 0x3ff);
      }
      i += code < 0x800 ? 2 : code < 0x10000 ? 3 : 4;
    }
    if (filled >= LOT) {
      parts.push(String.fromCharCode(...units.subarray(0, filled)));
      filled = 0;
    }
  }
  parts.push(String.fromCharCode(...units.subarray(0, filled)));
  return parts.join("");
}

/** The character of two bytes or more that begins here, or null where the bytes make none. */
function codeAt(bytes: Uint8Array, at: number): number | null {
  const lead = bytes[at] as number;
  const more = lead >= 0xc2 && lead < 0xe0 ? 1 : lead >= 0xe0 && lead < 0xf0 ? 2 : lead >= 0xf0 && lead < 0xf5 ? 3 : 0;
  if (more === 0 || at + more >= bytes.length) return null;
  let code = lead & (0x3f >> more);
  for (let k = 1; k <= more; k++) {
    const next = bytes[at + k] as number;
    if ((next & 0xc0) !== 0x80) return null;
    code = (code << 6) | (next & 0x3f);
  }
  const least = [0, 0x80, 0x800, 0x10000][more] as number;
  return code < least || code > 0x10ffff || (code >= 0xd800 && code < 0xe000) ? null : code;
}

const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const VALUES = new Map([...DIGITS].map((digit, value) => [digit, value]));

/** Bytes written as base 64 (RFC 4648, section 4), as a file dropped on the window comes. */
export function fromBase64(text: string): Uint8Array {
  const digits = text.replace(/=+$/, "");
  const bytes = new Uint8Array((digits.length * 3) >> 2);
  let held = 0;
  let bits = 0;
  let at = 0;
  for (const digit of digits) {
    const value = VALUES.get(digit);
    if (value === undefined)
      refuse("bad_input", say`The file's content can't be read.`, [{ field: "content", reason: say`is not base 64` }]);
    held = (held << 6) | (value as number);
    bits += 6;
    if (bits >= 8) {
      bits -= 8;
      bytes[at++] = (held >> bits) & 0xff;
      held &= (1 << bits) - 1;
    }
  }
  return bytes;
}
