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
  ["splice", "loss_ab_db", "> 0.1", ["loss A to B above 0.1", "above 0.1"]],
  ["splice", "loss_ab_db", "<0.1", ["loss A to B below 0.1", "below 0.1"]],
  ["splice", "made_on", "<= 3.4.26", ["made on at most 3.4.26", "at_most 2026-04-03"]],
  ["splice", "made_on", "2015", ["made on in 2015", "at_least 2015-01-01", "at_most 2015-12-31"]],
  ["splice", "made_on", "2024-2", ["made on in 2024-2", "at_least 2024-02-01", "at_most 2024-02-29"]],
  ["splice", "made_on", ">= 2015-05", ["made on at least 2015-05", "at_least 2015-05-01"]],
  ["splice", "made_on", "> 2015", ["made on above 2015", "above 2015-12-31"]],
  ["splice", "made_on", "< 2015-05", ["made on below 2015-05", "below 2015-05-01"]],
  ["splice", "made_on", "2014..2015-04", ["made on from 2014 to 2015-04", "at_least 2014-01-01", "at_most 2015-04-30"]],
  ["cable", "tag", "> F-012", ["tag above F-012", "above F-012"]],
  ["splice", "made_by", "crew", ["made by has crew", "contains crew"]],
  ["splice", "made_by", "= crew 2", ["made by is crew 2", "is crew 2"]],
  ["splice", "made_by", "empty", ["made by is empty", "empty"]],
  ["cable", "tag", "F-0*", ["tag begins F-0", "starts F-0"]],
  ["splice", "tray_id", "CL-03", ["splice tray has CL-03", "contains CL-03"]],
  ["splice", "tray_id", "= MH-03/CL-3/T1", ["splice tray is MH-03/CL-3/T1", "is MH-03/CL-3/T1"]],
  ["strand", "cable_id", "not F-014", ["cable is not F-014", "is_not F-014"]],
] as const)("%s %s: %s", (kind, name, text, expected) => expect(filter(kind, name, text)).toEqual(expected));

const whole = (kind: KindName, name: string, text: string) => {
  const field = fieldOf(kind, name);
  if (!field) throw new Error(`${kind} has no ${name}`);
  return readFilter(kind, name, field, text, { today: "2026-04-07", lengths: "m" });
};

it("takes either of several values, and says so", () => {
  expect(whole("splice", "method", "fusion | mech")).toEqual({
    words: "method is fusion or method is mechanical",
    filters: [
      { field: "method", test: "is", value: "fusion", or: [{ field: "method", test: "is", value: "mechanical" }] },
    ],
  });
  expect(filter("splice", "method", "fusion |")).toBe("has nothing on one side of the stroke");
  expect(filter("splice", "loss_ab_db", "1..2 | 4")).toBe("has a range beside a stroke: filter by one of both");
});

it("says that the record that is named has no such field, instead of looking for the words", () => {
  expect(filter("cable", "type_id", "place: outdoor")).toBe(
    "is “place: outdoor”: cable types have no field called place",
  );
  // A tag has no space behind its colon.
  expect(filter("splice", "a_section_id", "F-012:25")).toEqual(["end A has F-012:25", "contains F-012:25"]);
});

it("takes the name that files give a field for its label", () => {
  expect(whole("cable", "type_id", "environment: outdoor")).toEqual(whole("cable", "type_id", "made for: outdoor"));
});

it("goes by a field of the record that is named, through several records", () => {
  expect(whole("cable", "type_id", "Made for: outdoor | empty")).toEqual({
    words: "type's made for is outdoor or type is empty",
    filters: [
      {
        field: "type_id.environment",
        test: "is",
        value: "outdoor",
        or: [{ field: "type_id", test: "empty" }],
      },
    ],
  });
  expect(filter("strand", "cable_id", "type: tag: LT-*")).toEqual(["cable's type's tag begins LT-", "starts LT-"]);
  expect(whole("cable", "type_id", "made for:")).toBeNull();
  // An address with a colon is no field.
  expect(filter("splice", "a_section_id", "F-014:25")).toEqual(["end A has F-014:25", "contains F-014:25"]);
});

it("asks nothing for an empty filter, or for a sign alone", () => {
  expect(filter("splice", "method", "  ")).toBeNull();
  expect(filter("splice", "loss_ab_db", ">=")).toBeNull();
});
it("says what is wrong with a bound", () =>
  expect(filter("splice", "loss_ab_db", ">= much")).toMatch(/must be a number/));

it("says of words that they stand in no order, and of a month that there is none", () => {
  expect(filter("splice", "made_by", "> 2012")).toMatch(/^takes no >: only numbers, days and tags/);
  expect(filter("splice", "method", "<= fusion")).toMatch(/^takes no <=/);
  expect(filter("splice", "made_on", "2015-13")).toBe("is “2015-13”: there is no such month");
});
