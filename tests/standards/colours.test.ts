/**
 * Colours held against published values. Source keys are those of the project's table of sources: K-W598 is an
 * encyclopedia article on TIA-598-C, K-FO4S a colour identification chart of 2012, K-OSP an open course for outside-plant
 * technicians, K-ANEDIS a vendor's table of codes, K-DATW a cable maker's sheet of 07/2013, K-FRCODE a study program's
 * table, K-CFOA two cable makers' specification sheets.
 */
import { describe, expect, it } from "vitest";
import { COLOUR_SEQUENCES } from "../../core/model/lists.ts";
import { SEQUENCES, type SequenceName } from "../../core/standards/colour-table.ts";
import {
  type Colour,
  colourAt,
  colourFromText,
  colourShort,
  colourWords,
  positionsOf,
  strandNumber,
  tubesByFibre,
  unitAndPlace,
} from "../../core/standards/colours.ts";
import { schemeOf, strandLayers } from "../../core/standards/strand-colours.ts";

const words = (sequence: SequenceName, position: number) => colourWords(colourAt(sequence, position));
const order = (sequence: SequenceName) => Array.from({ length: 12 }, (_, i) => words(sequence, i + 1)).join(" ");

describe("the twelve colours, in the order each source prints", () => {
  it("TIA-598 [K-W598]", () => {
    expect(order("tia_598")).toBe("blue orange green brown slate white red black yellow violet rose aqua");
  });
  it("TIA letter codes [SL, AQ, BL: K-W598; others from memory]", () => {
    const codes = Array.from({ length: 12 }, (_, i) => colourAt("tia_598", i + 1).code).join(" ");
    expect(codes).toBe("BL OR GR BR SL WH RD BK YL VI RS AQ");
  });
  it("IEC 60304 colours in DIN order [K-ANEDIS, K-DATW]", () => {
    expect(order("iec_60304")).toBe("red green blue yellow white grey brown violet turquoise black orange pink");
  });
  it("older IEC 60794-2 guidance [K-ANEDIS]", () => {
    expect(order("iec_60794_2")).toBe("blue yellow red white green violet orange grey turquoise black brown pink");
  });
  it("Swiss operator code [K-ANEDIS]", () => {
    expect(order("swiss")).toBe("red green yellow blue white violet orange black grey brown pink turquoise");
  });
  it("French operator code [K-FRCODE]", () => {
    expect(order("french")).toBe("red blue green yellow violet white orange grey brown black turquoise pink");
  });
  it("Brazilian cables [K-CFOA]", () => {
    expect(order("brazilian")).toBe("green yellow white blue red violet brown pink black grey orange turquoise");
  });
  it("has twelve different colours in each sequence, and each names its source", () => {
    for (const { hues, source, beyond } of Object.values(SEQUENCES)) {
      expect(new Set(hues).size).toBe(12);
      expect(source.text.length).toBeGreaterThan(20);
      expect(beyond.source.text.length).toBeGreaterThan(20);
    }
    expect(Object.keys(SEQUENCES).sort()).toEqual(
      Object.keys(COLOUR_SEQUENCES)
        .filter((name) => name !== "explicit")
        .sort(),
    );
  });
});

describe("a strand of a cable with twelve in each tube", () => {
  const strand = (number: number) => {
    const { unit, place } = unitAndPlace(number, 12);
    return `${words("tia_598", unit)} tube, ${words("tia_598", place)}`;
  };
  it("61 is blue in the white tube [K-FO4S]", () => expect(strand(61)).toBe("white tube, blue"));
  it("34 is violet in the green tube [a weak page; the arithmetic is plain]", () =>
    expect(strand(34)).toBe("green tube, violet"));
  it("86 is orange in the black tube [K-OSP]", () => expect(strand(86)).toBe("black tube, orange"));
  it("goes back from tube and position to the number, at every number and tube size", () => {
    for (const each of [1, 4, 6, 12, 24]) {
      for (let number = 1; number <= 200; number++) {
        const { unit, place } = unitAndPlace(number, each);
        expect(place).toBeLessThanOrEqual(each);
        expect(strandNumber(unit, place, each)).toBe(number);
      }
    }
  });
});

describe("beyond twelve", () => {
  it("TIA-598 adds a black stripe for each dozen, yellow on black [K-W598]", () => {
    expect(words("tia_598", 13)).toBe("blue, one stripe");
    expect(words("tia_598", 20)).toBe("black, one yellow stripe");
    expect(words("tia_598", 25)).toBe("blue, two stripes");
    expect(colourAt("tia_598", 13).mark).toEqual({ kind: "stripe", count: 1, colour: "black" });
    expect(colourAt("tia_598", 44).mark).toEqual({ kind: "stripe", count: 3, colour: "yellow" });
  });
  it("the IEC/DIN order takes a ring [K-ANEDIS, K-DATW]", () => {
    expect(words("iec_60304", 13)).toBe("red, one ring");
    expect(words("iec_60304", 19)).toBe("brown, one ring");
    expect(words("iec_60304", 24)).toBe("pink, one ring");
  });
  it("position 22 of the ringed IEC/DIN set is transparent with a black ring [K-DATW]", () => {
    expect(colourAt("iec_60304", 22)).toEqual({
      name: "transparent",
      code: null,
      mark: { kind: "ring", count: 1, colour: "black" },
    });
    expect(words("iec_60304", 22)).toBe("transparent, one black ring");
    expect(words("iec_60304", 10)).toBe("black");
  });
  it("every position up to 144 is told apart in every sequence", () => {
    for (const sequence of Object.keys(SEQUENCES) as SequenceName[]) {
      const all = Array.from({ length: 144 }, (_, i) => words(sequence, i + 1));
      expect(new Set(all).size).toBe(144);
    }
  });
});

describe("Central-European tubes [K-DATW, K-ANEDIS]", () => {
  it("begin red and green; the others tell the fibre", () => {
    expect(tubesByFibre(4, "os2")).toEqual(["red", "green", "white", "white"]);
    expect(tubesByFibre(3, "om3")).toEqual(["red", "green", "light green"]);
    expect(tubesByFibre(3, "om1")).toEqual(["red", "green", "blue"]);
  });
  it("can't be told without the fibre class", () => expect(tubesByFibre(4, null)).toBeNull());
  it("leave white to be one of several tubes", () => {
    expect(positionsOf("iec_60304", "white", 5, tubesByFibre(5, "os2"))).toEqual([3, 4, 5]);
  });
});

describe("a colour typed back", () => {
  it("is every position's own words and short form again, in every sequence", () => {
    for (const sequence of Object.keys(SEQUENCES) as SequenceName[]) {
      for (let position = 1; position <= 36; position++) {
        const colour = colourAt(sequence, position);
        expect(positionsOf(sequence, colourWords(colour) ?? "", 36)).toEqual([position]);
      }
    }
    for (let position = 1; position <= 36; position++) {
      expect(positionsOf("tia_598", colourShort(colourAt("tia_598", position)) ?? "", 36)).toEqual([position]);
    }
  });
  it("BL is blue and BK black under TIA-598, in any case", () => {
    expect(positionsOf("tia_598", "BL", 12)).toEqual([1]);
    expect(positionsOf("tia_598", "bk", 12)).toEqual([8]);
    expect(positionsOf("tia_598", "GR", 12)).toEqual([3]);
  });
  it("elsewhere BL may be blue or black, GR green or grey", () => {
    expect(positionsOf("swiss", "BL", 12)).toEqual([4, 8]);
    expect(positionsOf("iec_60304", "GR", 12)).toEqual([2, 6]);
  });
  it("elsewhere a code that only one colour has is read [IEC 60757, from memory]", () => {
    expect(positionsOf("iec_60304", "BU", 12)).toEqual([3]);
    expect(positionsOf("iec_60304", "GY", 12)).toEqual([6]);
    expect(positionsOf("iec_60304", "TQ", 12)).toEqual([9]);
  });
  it("knows the other names of a colour", () => {
    expect(positionsOf("tia_598", "grey", 12)).toEqual([5]);
    expect(positionsOf("tia_598", "gray", 12)).toEqual([5]);
    expect(positionsOf("tia_598", "pink", 12)).toEqual([11]);
    expect(positionsOf("tia_598", "turquoise", 12)).toEqual([12]);
    expect(positionsOf("tia_598", "light blue", 12)).toEqual([12]);
    expect(positionsOf("iec_60304", "slate", 12)).toEqual([6]);
  });
  it("a beginning is every colour that begins so", () => {
    expect(positionsOf("tia_598", "b", 12)).toEqual([1, 4, 8]);
    expect(positionsOf("tia_598", "bla", 12)).toEqual([8]);
  });
  it("without a mark means the one without, with one the one with", () => {
    expect(positionsOf("tia_598", "BL", 24)).toEqual([1]);
    expect(positionsOf("tia_598", "BL+1", 24)).toEqual([13]);
    expect(positionsOf("tia_598", "blue with a stripe", 24)).toEqual([13]);
    expect(positionsOf("tia_598", "blue, two stripes", 36)).toEqual([25]);
    expect(positionsOf("tia_598", "black, one yellow stripe", 24)).toEqual([20]);
    expect(positionsOf("iec_60304", "brown ring", 24)).toEqual([19]);
    expect(positionsOf("iec_60304", "brown stripe", 24)).toEqual([]);
  });
  it("is nothing where the sequence or the count has no such colour", () => {
    expect(positionsOf("tia_598", "gold", 12)).toEqual([]);
    expect(positionsOf("tia_598", "aqua", 6)).toEqual([]);
    expect(positionsOf("tia_598", "", 12)).toEqual([]);
  });
});

describe("an explicit list", () => {
  const list = ["Red", "natural", "sky-blue w/ band", "BL"];
  const at = (position: number): Colour => colourAt("explicit", position, list);
  it("says what it says, and nothing after its end", () => {
    expect([1, 2, 3, 4, 5].map((position) => colourWords(at(position)))).toEqual([
      "red",
      "natural",
      "sky-blue w/ band",
      "blue",
      null,
    ]);
    expect(at(4).code).toBe("BL");
    expect(at(3).code).toBeNull();
  });
  it("goes before a sequence as far as it reaches", () => {
    expect(colourWords(colourAt("tia_598", 1, ["red"]))).toBe("red");
    expect(colourWords(colourAt("tia_598", 2, ["red"]))).toBe("orange");
  });
  it("is read back by its own words", () => {
    expect(positionsOf("explicit", "SKY BLUE W/ BAND", 4, list)).toEqual([3]);
    expect(positionsOf("explicit", "blue", 4, list)).toEqual([4]);
  });
  it("understands marks in words", () => {
    expect(colourFromText("BL+2", "tia_598")).toEqual({
      name: "blue",
      code: "BL",
      mark: { kind: "stripe", count: 2, colour: "black" },
    });
    expect(colourFromText("white with a red ring").mark).toEqual({ kind: "ring", count: 1, colour: "red" });
  });
});

describe("the layers of a strand", () => {
  const none = { colour_sequence: null, unit_colours: null, strand_colours: null };
  const tia = { ...none, colour_sequence: "tia_598" as const };
  it("are its units from the outside in, then itself", () => {
    const layers = strandLayers(
      schemeOf(none, tia),
      [
        { kind: "tube", ordinal: 3, colour: null },
        { kind: "ribbon", ordinal: 2, colour: null },
      ],
      { number: 300, place: 7, colour: null },
    );
    expect(layers.map(({ words: each }) => each)).toEqual(["tube 3 green", "ribbon 2", "strand 7 red"]);
  });
  it("leave out the sheath, and take a colour of their own before the sequence", () => {
    const layers = strandLayers(schemeOf(tia, null), [{ kind: "sheath", ordinal: 1, colour: null }], {
      number: 2,
      place: 2,
      colour: "WH",
    });
    expect(layers.map(({ words: each }) => each)).toEqual(["strand 2 white"]);
  });
  it("say nothing of colour where neither cable nor type says a sequence", () => {
    const [layer] = strandLayers(schemeOf(none, null), [], { number: 5, place: null, colour: null });
    expect(layer).toEqual({ what: "strand", position: 5, name: null, code: null, mark: null, words: "strand 5" });
  });
  it("don't mix a cable's own sequence with its type's list", () => {
    const type = { ...tia, unit_colours: JSON.stringify(["red"]) };
    expect(schemeOf(none, type).unitColours).toEqual(["red"]);
    expect(schemeOf({ ...none, colour_sequence: "swiss" }, type).unitColours).toBeNull();
  });
});
