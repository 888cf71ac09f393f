/**
 * SHA-256 (FIPS 180-4) of text as UTF-8. Written here because core runs where neither Node's nor a browser's is at hand,
 * and a digest must be the same everywhere.
 */

/** First 32 bits of the fractional parts of the `power`-th roots of the first `count` primes (FIPS 180-4, 4.2.2, 5.3.3). */
function fractionsOfRoots(count: number, power: number): Int32Array {
  const words = new Int32Array(count);
  for (let found = 0, n = 2; found < count; n++) {
    let prime = true;
    for (let d = 2; d * d <= n; d++) if (n % d === 0) prime = false;
    // The fraction's 32 bits lie well inside the 53 of a double: roots here are below 20.
    if (prime) words[found++] = (n ** (1 / power) % 1) * 2 ** 32;
  }
  return words;
}

const K = fractionsOfRoots(64, 3);
const START = fractionsOfRoots(8, 2);
const BUFFER = 4096;
/** Room for the words of one block, used while it is taken in. */
const WORDS = new Int32Array(64);

export class Digest {
  readonly #state = START.slice();
  readonly #bytes = new Uint8Array(BUFFER);
  #filled = 0;
  #length = 0;

  update(text: string): this {
    const bytes = this.#bytes;
    let at = this.#filled;
    for (let i = 0; i < text.length; i++) {
      if (at > BUFFER - 4) at = this.#consume(at);
      let code = text.charCodeAt(i);
      if (code < 0x80) bytes[at++] = code;
      else if (code < 0x800) {
        bytes[at++] = 0xc0 | (code >> 6);
        bytes[at++] = 0x80 | (code & 63);
      } else {
        if (code >= 0xd800 && code < 0xe000) code = text.codePointAt(i) as number;
        if (code > 0xffff) {
          i++;
          bytes[at++] = 0xf0 | (code >> 18);
          bytes[at++] = 0x80 | ((code >> 12) & 63);
        } else bytes[at++] = 0xe0 | (code >> 12);
        bytes[at++] = 0x80 | ((code >> 6) & 63);
        bytes[at++] = 0x80 | (code & 63);
      }
    }
    this.#filled = at;
    return this;
  }

  updateBytes(given: Uint8Array): this {
    for (let from = 0; from < given.length; ) {
      if (this.#filled === BUFFER) this.#filled = this.#consume(BUFFER);
      const piece = given.subarray(from, from + BUFFER - this.#filled);
      this.#bytes.set(piece, this.#filled);
      this.#filled += piece.length;
      from += piece.length;
    }
    return this;
  }

  /** The digest in hexadecimal; ends the object's use. */
  hex(): string {
    const at = this.#consume(this.#filled);
    const bytes = this.#bytes;
    const bits = (this.#length + at) * 8;
    const end = at + 9 <= 64 ? 64 : 128;
    bytes.fill(0, at, end);
    bytes[at] = 0x80;
    for (let i = 0, rest = bits; i < 8; i++, rest = Math.floor(rest / 256)) bytes[end - 1 - i] = rest % 256;
    this.#consume(end);
    return Array.from(this.#state, (word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
  }

  /** Takes in all whole blocks and moves the rest to the front; answers how many bytes are left. */
  #consume(filled: number): number {
    const bytes = this.#bytes;
    const w = WORDS;
    const s = this.#state;
    const whole = filled - (filled % 64);
    for (let at = 0; at < whole; at += 64) {
      for (let i = 0, p = at; i < 16; i++, p += 4)
        w[i] =
          ((bytes[p] as number) << 24) |
          ((bytes[p + 1] as number) << 16) |
          ((bytes[p + 2] as number) << 8) |
          (bytes[p + 3] as number);
      for (let i = 16; i < 64; i++) {
        const x = w[i - 15] as number;
        const y = w[i - 2] as number;
        const s0 = ((x >>> 7) | (x << 25)) ^ ((x >>> 18) | (x << 14)) ^ (x >>> 3);
        const s1 = ((y >>> 17) | (y << 15)) ^ ((y >>> 19) | (y << 13)) ^ (y >>> 10);
        w[i] = ((w[i - 16] as number) + s0 + (w[i - 7] as number) + s1) | 0;
      }
      let a = s[0] as number;
      let b = s[1] as number;
      let c = s[2] as number;
      let d = s[3] as number;
      let e = s[4] as number;
      let f = s[5] as number;
      let g = s[6] as number;
      let h = s[7] as number;
      for (let i = 0; i < 64; i++) {
        const s1 = ((e >>> 6) | (e << 26)) ^ ((e >>> 11) | (e << 21)) ^ ((e >>> 25) | (e << 7));
        const t1 = (h + s1 + ((e & f) ^ (~e & g)) + (K[i] as number) + (w[i] as number)) | 0;
        const s0 = ((a >>> 2) | (a << 30)) ^ ((a >>> 13) | (a << 19)) ^ ((a >>> 22) | (a << 10));
        const t2 = (s0 + ((a & b) ^ (a & c) ^ (b & c))) | 0;
        h = g;
        g = f;
        f = e;
        e = (d + t1) | 0;
        d = c;
        c = b;
        b = a;
        a = (t1 + t2) | 0;
      }
      s[0] = (s[0] as number) + a;
      s[1] = (s[1] as number) + b;
      s[2] = (s[2] as number) + c;
      s[3] = (s[3] as number) + d;
      s[4] = (s[4] as number) + e;
      s[5] = (s[5] as number) + f;
      s[6] = (s[6] as number) + g;
      s[7] = (s[7] as number) + h;
    }
    this.#length += whole;
    bytes.copyWithin(0, whole, filled);
    return filled - whole;
  }
}

export const digestOf = (text: string): string => new Digest().update(text).hex();
