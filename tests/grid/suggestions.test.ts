/** What is offered for what was typed. */
import { expect, it } from "vitest";
import { fitting } from "../../renderer/grid/suggestions.ts";

const all = ["EN-02/4", "EN-02/1", "EN-02", "TEN-02"].map((text) => ({ text, aside: null, found: null }));
const offered = (typed: string) => fitting(all, typed).map(({ text }) => text);

it("has what is exactly so first, so that Enter takes what was typed", () => {
  expect(offered("en-02")).toEqual(["EN-02", "EN-02/4", "EN-02/1", "TEN-02"]);
});

it("keeps the order of the others, those that begin so before those that hold it", () => {
  expect(offered("EN-0")).toEqual(["EN-02/4", "EN-02/1", "EN-02", "TEN-02"]);
  expect(offered("")).toEqual(all.map(({ text }) => text));
});
