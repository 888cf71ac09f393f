import { describe, expect, it } from "vitest";
import {
  fillPattern,
  foldLabel,
  judgeLabel,
  type LabelPatterns,
  readAlike,
  readPatterns,
} from "../../core/model/label-text.ts";

const facts = { tag: "F-012", from: "LIB/101", to: "SCI/B01", strands: "144" };

describe("the wording of a label", () => {
  it("fills its blanks and leaves other braces alone", () => {
    expect(fillPattern("{tag} {from} > {to} {strands}F {x}", facts)).toEqual({
      text: "F-012 LIB/101 > SCI/B01 144F {x}",
      lacks: [],
      left_out: [],
    });
  });
  it("says which blank the record can't fill", () => {
    expect(fillPattern("{tag} {to} {to}", { ...facts, to: null })).toEqual({ text: null, lacks: ["to"], left_out: [] });
  });
});

describe("a part of a wording in < >", () => {
  it("is left out, with its line, where the record doesn't know its blank, and that is told", () => {
    const wording = "{tag}\n<Emergency {emergency}>\n{strands} strands<, {fibre}>";
    expect(fillPattern(wording, { ...facts, emergency: null })).toEqual({
      text: "F-012\n144 strands",
      lacks: [],
      left_out: ["emergency", "fibre"],
    });
  });
  it("is left out without a word where the record says that there is nothing to tell", () => {
    expect(fillPattern("{tag} <{ranges}>", { ...facts, ranges: "" })).toEqual({
      text: "F-012",
      lacks: [],
      left_out: [],
    });
  });
  it("takes what the record says as it stands, braces and all", () => {
    expect(fillPattern("{tag} <{owner}>", { ...facts, owner: "{to}" }).text).toBe("F-012 {to}");
  });
});

describe("comparing labels", () => {
  it.each([
    ["F-012", "f 012"],
    ["F–012", "F—012"],
    ["F\u2011012", "F012"],
    ["LIB 101 - SCI B01", "lib101–scib01"],
    ["F\u00a0012\n144F", "F-012 144f"],
  ])("reads %j and %j alike", (a, b) => {
    expect(readAlike(a, b)).toBe(true);
  });
  it("keeps everything else", () => {
    expect(readAlike("F-012", "F-021")).toBe(false);
    expect(readAlike("LIB/101", "LIB101")).toBe(false);
    expect(foldLabel("F-012 #3")).toBe("f012#3");
  });
});

describe("whether a label is right", () => {
  const patterns: LabelPatterns = {
    current: { cable: ["{tag} {strands}F", "{tag}"] },
    old: { cable: ["{strands} FO {tag}"] },
  };

  it("follows any current wording", () => {
    expect(judgeLabel("f012", "cable", facts, patterns)).toBe("right");
    expect(judgeLabel("F 012 144F", "cable", facts, patterns)).toBe("right");
  });
  it("follows a wording that was right once", () => {
    expect(judgeLabel("144 FO F-012", "cable", facts, patterns)).toBe("old_style");
  });
  it("contradicts the record", () => {
    expect(judgeLabel("F-013 144F", "cable", facts, patterns)).toBe("wrong");
  });
  it("can't be judged where the record lacks what the wording asks for", () => {
    const only = { current: { cable: ["{tag} {to}"] }, old: {} };
    expect(judgeLabel("F-012 SCI/B01", "cable", { ...facts, to: null }, only)).toBe("unknown");
  });
  it("rests on the label templates in use where the plant has no wording for the kind", () => {
    const none = readPatterns({ label_patterns: null, old_label_patterns: null });
    const templates = ["{tag}\n<{strands} strands>", "{tag}: {to}"];
    expect(judgeLabel("F-012 144 strands", "cable", facts, none, templates)).toBe("right");
    expect(judgeLabel("F-012: SCI/B01", "cable", facts, none, templates)).toBe("right");
    expect(judgeLabel("F-012 LIB/101 - SCI/B01 144F", "cable", facts, none, templates)).toBe("wrong");
  });
});
