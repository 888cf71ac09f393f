/** The address holds the question: whatever stands in a blank comes back as it was. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { addressOf, parseRoute } from "../../renderer/frame/router.ts";

describe("an address", () => {
  it("leaves tags as people write them", () => {
    expect(addressOf("find", { of: "LIB/101/A:07" })).toBe("#/find?of=LIB/101/A:07");
  });

  it("leaves out what is empty", () => {
    expect(addressOf("feeds", { of: "LIB", state: "", over: null, at: undefined })).toBe("#/feeds?of=LIB");
  });

  it("escapes what would end a value", () => {
    expect(parseRoute(addressOf("find", { of: "F-012:25#2" })).values.of).toBe("F-012:25#2");
    expect(parseRoute(addressOf("find", { of: "a&b=c+d %2F?" })).values.of).toBe("a&b=c+d %2F?");
  });

  it("gives back any path and any values (any text, fixed seed)", () => {
    const name = fc.string({ minLength: 1, unit: "grapheme" }).filter((text) => text !== "__proto__");
    const text = fc.string({ minLength: 1, unit: "grapheme" });
    fc.assert(
      fc.property(fc.dictionary(name, text, { noNullPrototype: true }), (values) => {
        const route = parseRoute(addressOf("find", values));
        expect(route).toEqual({ path: "find", values });
      }),
      { seed: 20261125, numRuns: 400 },
    );
  });

  it("is read as nothing when it is nothing", () => {
    expect(parseRoute("")).toEqual({ path: "", values: {} });
    expect(parseRoute("#/")).toEqual({ path: "", values: {} });
    expect(parseRoute("#/find?of=%E0%A4%A")).toEqual({ path: "find", values: { of: "%E0%A4%A" } });
  });
});
