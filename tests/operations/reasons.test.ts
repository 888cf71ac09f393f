import { describe, expect, it } from "vitest";
import { z } from "zod";
import { decode } from "../../core/operations/dispatch.ts";
import { Refusal } from "../../core/result.ts";

const shape = z.strictObject({
  tag: z.string().min(1, "a tag is needed").max(5),
  count: z.int().min(1).max(10).optional(),
  kind: z.enum(["cable", "panel"]).optional(),
  at: z.union([z.string(), z.strictObject({ kind: z.string(), id: z.int() })]).optional(),
  list: z.array(z.number()).min(1).max(2).optional(),
});

/** The problems of an input, as `field: reason`. */
function problems(input: unknown): string[] {
  try {
    decode(shape, input, "a test");
    return [];
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    expect(error.failure.message).toBe("The input of a test can't be read.");
    return error.failure.problems.map(({ field, reason }) => (field ? `${field}: ${reason}` : reason));
  }
}

describe("why an input can't be read", () => {
  it("is said in plain words with the field's name", () => {
    expect(problems({ tag: "F-1" })).toEqual([]);
    expect(problems({})).toEqual(["tag: is missing"]);
    expect(problems({ tag: 5 })).toEqual(["tag: must be text, not a number"]);
    expect(problems({ tag: null })).toEqual(["tag: must be text, not empty"]);
    expect(problems({ tag: "F-12345" })).toEqual(["tag: must have at most 5 characters"]);
    expect(problems({ tag: "F", count: 0 })).toEqual(["count: must be at least 1"]);
    expect(problems({ tag: "F", count: 1.5 })).toEqual(["count: must be a whole number, not a number"]);
    expect(problems({ tag: "F", count: "two" })).toEqual(["count: must be a number, not text"]);
    expect(problems({ tag: "F", kind: "unicorn" })).toEqual(["kind: must be one of cable, panel"]);
    expect(problems({ tag: "F", list: [] })).toEqual(["list: must have at least 1 entry"]);
    expect(problems({ tag: "F", list: [1, "x"] })).toEqual(["list.1: must be a number, not text"]);
    expect(problems({ tag: "F", tga: 1, more: 2 })).toEqual(["has no fields tga, more"]);
    expect(problems([])).toEqual(["must be an object of named fields, not a list"]);
  });
  it("keeps what the field itself says", () => {
    expect(problems({ tag: "" })).toEqual(["tag: a tag is needed"]);
  });
  it("speaks of the form that comes closest, where there are several", () => {
    expect(problems({ tag: "F", at: { kind: "cable", id: "x" } })).toEqual(["at.id: must be a number, not text"]);
    expect(problems({ tag: "F", at: 5 })).toEqual([
      "at: must be text, not a number, or must be an object of named fields, not a number",
    ]);
  });
  it("never uses the library's words", () => {
    for (const input of [{}, { tag: 5 }, { tag: "F", kind: 3, at: [], count: Number.NaN, list: {}, x: 1 }, "x", 3]) {
      for (const problem of problems(input)) expect(problem).not.toMatch(/invalid|expected|received|NaN|undefined/i);
    }
  });
});
