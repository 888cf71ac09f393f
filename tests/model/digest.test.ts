import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Digest, digestOf } from "../../core/model/digest.ts";

/** Node's own SHA-256 is the reference. */
const reference = (text: string): string => createHash("sha256").update(text, "utf8").digest("hex");

describe("the digest", () => {
  // FIPS 180-2, appendix B.
  it.each([
    ["abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"],
    [
      "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
      "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
    ],
  ])("of %j is the published one", (text, digest) => {
    expect(digestOf(text)).toBe(digest);
  });
  it("agrees with Node's at every length round a block, in any script", () => {
    for (let length = 0; length < 200; length++)
      expect(digestOf("a".repeat(length))).toBe(reference("a".repeat(length)));
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", maxLength: 300 }), (text) => {
        expect(digestOf(text)).toBe(reference(text));
      }),
      { seed: 5, numRuns: 300 },
    );
  });
  it("is the same however the text is cut, also far beyond its buffer", () => {
    const text = "漢é😀x".repeat(40_000);
    const digest = new Digest();
    for (let at = 0; at < text.length; ) {
      const point = text.codePointAt(at) as number;
      const size = point > 0xffff ? 2 : 1;
      digest.update(text.slice(at, at + size));
      at += size;
    }
    expect(digest.hex()).toBe(reference(text));
    expect(digestOf(text)).toBe(reference(text));
  });
});
