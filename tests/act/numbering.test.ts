import { describe, expect, it } from "vitest";
import { expandNumbering, shortRange } from "../../core/act/numbering.ts";
import { Refusal } from "../../core/result.ts";

const refusal = (act: () => unknown) => {
  try {
    act();
  } catch (error) {
    if (error instanceof Refusal) return error.failure;
    throw error;
  }
  throw new Error("nothing was refused");
};

describe("a pattern of numbers", () => {
  it("keeps the width of a leading zero", () => {
    expect(expandNumbering("08..11", "numbers")).toEqual(["08", "09", "10", "11"]);
  });
  it("counts without zeros where the first has none", () => {
    expect(expandNumbering("8-11", "numbers")).toEqual(["8", "9", "10", "11"]);
  });
  it("keeps letters before the number, written once or twice", () => {
    expect(expandNumbering("A1..A3, B1..2, IN", "numbers")).toEqual(["A1", "A2", "A3", "B1", "B2", "IN"]);
  });
  it("reads a dash between unlike letters as part of one name", () => {
    expect(expandNumbering("xe-0/0/1, T1-R2", "numbers")).toEqual(["xe-0/0/1", "T1-R2"]);
  });
  it("refuses to run backwards, naming both numbers", () => {
    const failure = refusal(() => expandNumbering("24..01", "ports.0.numbers"));
    expect(failure.code).toBe("bad_input");
    expect(failure.problems[0]).toMatchObject({ field: "ports.0.numbers", record: "24..01" });
    expect(failure.problems[0]?.reason).toMatch(/24/);
  });
  it("refuses a name that comes twice", () => {
    const failure = refusal(() => expandNumbering("01..04, 03", "numbers"));
    expect(failure.problems.map(({ record }) => record)).toEqual(["03"]);
  });
  it("refuses unlike letters at both ends of a range", () => {
    expect(refusal(() => expandNumbering("A1..B4", "numbers")).code).toBe("bad_input");
  });
  it("refuses nothing, and more than any panel has", () => {
    expect(refusal(() => expandNumbering(" , ", "numbers")).code).toBe("bad_input");
    expect(refusal(() => expandNumbering("1..999999999", "numbers")).code).toBe("bad_input");
    expect(refusal(() => expandNumbering("A1..A1500, B1..B1500", "numbers")).code).toBe("bad_input");
  });
});

describe("writing numbers the short way", () => {
  it("joins what follows on and keeps the order", () => {
    expect(shortRange([1, 2, 3, 7, 5, 6])).toBe("1-3,7,5-6");
  });
});
