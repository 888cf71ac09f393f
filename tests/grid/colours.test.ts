/**
 * Colours in tables. The order of twelve is TIA-598's: blue, orange, green, brown, slate, white, red, black, yellow, violet,
 * rose, aqua; the stripe from 13 on is common practice of that standard (see the sources beside `core/standards`).
 */
import { expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { newPlant } from "../support/plant.ts";

type Colours = AnswerOf<"glass.colours">;

it("names tube and strand from the outside in, of strands, of sections and of units", async () => {
  const plant = await newPlant();
  await plant.run("record.add", { kind: "cable_type", values: { tag: "LT", colour_sequence: "tia_598" } });
  await plant.run("cable.enter", {
    tag: "F-014",
    type: "LT",
    units: [{ kind: "tube", repeats: 4, strands: 12 }],
    stops: [{}, {}],
  });
  const idOf = async (kind: string, text: string): Promise<number> => {
    const { matches } = await plant.run<AnswerOf<"address.resolve">>("address.resolve", { text, kinds: [kind] });
    return matches[0]?.id ?? 0;
  };
  const strand = await idOf("strand", "F-014:30");
  const section = await idOf("section", "F-014:48#1");
  const unit = await idOf("unit", "F-014/4");
  const told = await plant.run<Colours>("glass.colours", {
    strands: [strand, 9999],
    sections: [section],
    units: [unit],
  });
  const words = (layers: Colours["strands"][string] | undefined) => layers?.map((layer) => layer.words);
  expect(words(told.strands[strand])).toEqual(["tube 3 green", "strand 6 white"]);
  expect(words(told.sections[section])).toEqual(["tube 4 brown", "strand 12 aqua"]);
  expect(words(told.units[unit])).toEqual(["tube 4 brown"]);
  expect(told.strands[9999]).toBeUndefined();
});

it("takes a colour on record before the sequence", async () => {
  const plant = await newPlant();
  await plant.run("record.add", { kind: "cable", values: { tag: "F-1", colour_sequence: "tia_598" } });
  await plant.run("record.add", { kind: "strand", values: { cable_id: "F-1", number: 2, colour: "white" } });
  const { strands } = await plant.run<Colours>("glass.colours", { strands: [1] });
  expect(strands[1]?.map((layer) => layer.code)).toEqual(["WH"]);
});
