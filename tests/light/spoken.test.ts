import { describe, expect, it } from "vitest";
import { spokenDecibel, spokenMetres } from "../../core/light/spoken.ts";

describe("decibels in a sentence", () => {
  it("have two digits", () => {
    expect([3.9499, 7.9905, -0.0049, 2].map((db) => String(spokenDecibel(db)))).toEqual(["3.95", "7.99", "0", "2"]);
  });
  it("keep more where two digits would make a number the same as the one it is set against", () => {
    expect(spokenDecibel(4.0031, 4)).toBe(4.0031);
    expect(spokenDecibel(4.0061, 4)).toBe(4.01);
    expect(spokenDecibel(0.0012, 0)).toBe(0.0012);
    expect(spokenDecibel(4, 4)).toBe(4);
  });
});

describe("metres in a sentence", () => {
  it("have one digit, and more where they would be the same as what they are set against", () => {
    expect([525.872, 447.78, 500].map((metres) => spokenMetres(metres))).toEqual([525.9, 447.8, 500]);
    expect(spokenMetres(500.012, 500)).toBe(500.012);
    expect(spokenMetres(500.3, 500)).toBe(500.3);
    expect(spokenMetres(500, 500)).toBe(500);
  });
});
