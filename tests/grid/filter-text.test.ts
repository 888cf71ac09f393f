/** Filters as people type them, and the words the sentence says of them. */
import { expect, it } from "vitest";
import { Fault } from "../../core/model/clean-text.ts";
import { fieldOf, type KindName } from "../../core/model/dictionary.ts";
import { readFilter } from "../../renderer/grid/filter-text.ts";

function filter(kind: KindName, name: string, text: string) {
  const field = fieldOf(kind, name);
  if (!field) throw new Error(`${kind} has no ${name}`);
  const read = readFilter(kind, name, field, text, { today: "2026-04-07", lengths: "m" });
  if (read instanceof Fault) return read.reason;
  return (
    read && [read.words, ...read.filters.map(({ test, value }) => (value === undefined ? test : `${test} ${value}`))]
  );
}

it.each([
  ["splice", "method", "fusion", ["method is fusion", "is fusion"]],
  ["splice", "method", "not fusion", ["method is not fusion", "is_not fusion"]],
  ["splice", "loss_ab_db", ">= 0.3", ["loss A to B at least 0.3", "at_least 0.3"]],
  ["splice", "loss_ab_db", "0.1..0.3", ["loss A to B from 0.1 to 0.3", "at_least 0.1", "at_most 0.3"]],
  ["splice", "made_on", "<= 3.4.26", ["made on at most 3.4.26", "at_most 2026-04-03"]],
  ["splice", "made_by", "crew", ["made by has crew", "contains crew"]],
  ["splice", "made_by", "= crew 2", ["made by is crew 2", "is crew 2"]],
  ["splice", "made_by", "empty", ["made by is empty", "empty"]],
  ["cable", "tag", "F-0*", ["tag begins F-0", "starts F-0"]],
  ["splice", "tray_id", "CL-03", ["splice tray has CL-03", "contains CL-03"]],
] as const)("%s %s: %s", (kind, name, text, expected) => expect(filter(kind, name, text)).toEqual(expected));

it("asks nothing for an empty filter", () => expect(filter("splice", "method", "  ")).toBeNull());
it("says what is wrong with a bound", () =>
  expect(filter("splice", "loss_ab_db", ">= much")).toMatch(/must be a number/));
