/** Bytes as base 64 (RFC 4648, section 4), in which they travel inside an answer. */
const DIGITS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
const LOT = 3 * 4096;

export function toBase64(bytes: Uint8Array): string {
  const parts: string[] = [];
  for (let from = 0; from < bytes.length; from += LOT) {
    let text = "";
    const to = Math.min(from + LOT, bytes.length);
    for (let i = from; i < to; i += 3) {
      const [a = 0, b = 0, c = 0] = [bytes[i], bytes[i + 1], bytes[i + 2]];
      const bits = (a << 16) | (b << 8) | c;
      text += `${DIGITS[bits >> 18]}${DIGITS[(bits >> 12) & 63]}${i + 1 < to ? DIGITS[(bits >> 6) & 63] : "="}${i + 2 < to ? DIGITS[bits & 63] : "="}`;
    }
    parts.push(text);
  }
  return parts.join("");
}
