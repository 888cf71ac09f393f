/** How messages are said: as they stand in English, by their pattern in another language. */
import { afterEach, describe, expect, it } from "vitest";
import { counted, plural } from "../../core/words/counted.ts";
import { type Language, speak } from "../../core/words/language.ts";
import { countedPattern, holesOf, patternOf, pluralPattern } from "../../core/words/pattern.ts";
import { say } from "../../core/words/say.ts";

const language = (words: Partial<Language>): Language => ({
  code: "de",
  name: "Deutsch",
  messages: {},
  counted: {},
  ...words,
});

afterEach(() => speak(null));

describe("a message in English", () => {
  it("is what the source says", () => {
    expect(say`Losing ${"F-012"} takes ${24} of ${undefined}, ${null}.`).toBe(
      `Losing ${"F-012"} takes ${24} of ${undefined}, ${null}.`,
    );
    expect(say`No glass is lost.`).toBe("No glass is lost.");
  });
  it("keeps braces that are no holes", () => {
    expect(say`A template such as {tag} or {0x} stands for ${"F-012"}.`).toBe(
      "A template such as {tag} or {0x} stands for F-012.",
    );
  });
});

describe("a message in another language", () => {
  const said = (of: string, by: string) => say`Losing ${of} takes ${by}.`;

  it("is its translation, with the holes in that language's order", () => {
    speak(language({ messages: { "Losing {0} takes {1}.": "{1} fällt mit {0} aus." } }));
    expect(said("F-012", "K-118")).toBe("K-118 fällt mit F-012 aus.");
    // The site is known by then; other values are put in all the same.
    expect(said("F-013", "K-119")).toBe("K-119 fällt mit F-013 aus.");
  });
  it("stays English where there is none", () => {
    speak(language({}));
    expect(said("F-012", "K-118")).toBe("Losing F-012 takes K-118.");
  });
  it("changes with the language", () => {
    speak(language({ messages: { "Losing {0} takes {1}.": "{0}: {1}" } }));
    expect(said("a", "b")).toBe("a: b");
    speak(language({ messages: { "Losing {0} takes {1}.": "{1}: {0}" } }));
    expect(said("a", "b")).toBe("b: a");
    speak(null);
    expect(said("a", "b")).toBe("Losing a takes b.");
  });
  it("may use a hole twice", () => {
    speak(language({ messages: { "Losing {0} takes {1}.": "{0} {1} {0}" } }));
    expect(said("a", "b")).toBe("a b a");
  });
});

describe("a number with what it counts", () => {
  it("has one form for one and another for many in English, thousands apart", () => {
    expect([0, 1, 2, 1440].map((n) => counted(n, "strand"))).toEqual([
      "0 strands",
      "1 strand",
      "2 strands",
      "1\u202f440 strands",
    ]);
    expect(counted(2, "branch", "branches")).toBe("2 branches");
  });
  it("has as many forms as the language", () => {
    // Polish has four: one, few, many, other (Unicode CLDR, language plural rules).
    speak(
      language({
        code: "pl",
        counted: {
          [countedPattern("strand", "strands")]: {
            one: "{0} włókno",
            few: "{0} włókna",
            many: "{0} włókien",
            other: "{0} włókna (ułamek)",
          },
        },
      }),
    );
    expect([1, 2, 5, 22, 25].map((n) => counted(n, "strand"))).toEqual([
      "1 włókno",
      "2 włókna",
      "5 włókien",
      "22 włókna",
      "25 włókien",
    ]);
    expect(counted(3, "panel")).toBe("3 panels");
  });
});

describe("a sentence whose words hang on a number", () => {
  const said = (n: number) => plural(n, "{1} of {2} is cut.", "{0} of {2} are cut: {1}.", "25-36", "F-012");

  it("has one form for one and another for many in English, and tells the number where it is wanted", () => {
    expect([1, 0, 1440].map(said)).toEqual([
      "25-36 of F-012 is cut.",
      "0 of F-012 are cut: 25-36.",
      "1\u202f440 of F-012 are cut: 25-36.",
    ]);
  });
  it("has as many forms as the language, with the holes in that language's order", () => {
    speak(
      language({
        code: "pl",
        counted: {
          [pluralPattern("{1} of {2} is cut.", "{0} of {2} are cut: {1}.")]: {
            one: "{2}: {1} przecięte.",
            few: "{2}: {0} przecięte ({1}).",
            many: "{2}: {0} przeciętych ({1}).",
            other: "{2}: {0} przecięcia ({1}).",
          },
        },
      }),
    );
    expect([1, 2, 5].map(said)).toEqual([
      "F-012: 25-36 przecięte.",
      "F-012: 2 przecięte (25-36).",
      "F-012: 5 przeciętych (25-36).",
    ]);
  });
  it("stays English where it has no translation", () => {
    speak(language({}));
    expect(said(1)).toBe("25-36 of F-012 is cut.");
  });
});

describe("a pattern", () => {
  it("numbers the holes of a template", () => {
    expect(patternOf(["", " of ", ""])).toBe("{0} of {1}");
  });
  it("tells its holes, each once", () => {
    expect(holesOf("{1} of {0}, {1} {tag}")).toEqual([0, 1]);
  });
});
