/** Acts as sentences with blanks: what stands in them becomes the operation's input, which the operation itself accepts. */
import { describe, expect, it } from "vitest";
import { OPERATIONS } from "../../core/operations/list.ts";
import { partsOf } from "../../renderer/forms/act.ts";
import { ACTS, actNamed } from "../../renderer/forms/acts/index.ts";
import { buildInput, placeProblems } from "../../renderer/forms/input.ts";
import { newPlant } from "../support/plant.ts";

const habits = { today: "2026-04-07", lengths: "m" } as const;
const act = (name: string) => {
  const found = actNamed(name);
  if (!found) throw new Error(`no act ${name}`);
  return found;
};

describe("every act", () => {
  it("has every blank of its sentence and of its groups, and shows each blank once", () => {
    for (const one of ACTS) {
      const inSentence = partsOf(one.sentence).flatMap((part) => ("blank" in part ? [part.blank] : []));
      const shown = [...inSentence, ...one.more.flat()];
      expect(shown.filter((name) => !one.blanks[name])).toEqual([]);
      expect(shown.toSorted()).toEqual(Object.keys(one.blanks).toSorted());
    }
  });

  it("calls an operation on the list, under a name of its own", () => {
    const names = OPERATIONS.map((operation) => operation.name as string);
    expect(ACTS.filter((one) => !names.includes(one.operation))).toEqual([]);
    expect(new Set(ACTS.map((one) => one.name)).size).toBe(ACTS.length);
  });

  it("covers every act a clerk can do", () => {
    // What is printed is noted by the page that prints it.
    const covered = new Set<string>([...ACTS.map((one) => one.operation), "label.printed"]);
    const subjects = /^(panel|device|closure|module|strand|splice|cord|port|circuit|label|cable)\./;
    const acts = OPERATIONS.filter((one) => one.effect === "write" && subjects.test(one.name)).map((one) => one.name);
    expect(acts.filter((name) => !covered.has(name))).toEqual([]);
  });
});

describe("a filled act", () => {
  it("becomes numbers, days, lists and rows", () => {
    const { input, problems, missing } = buildInput(
      act("splice.range"),
      {
        from: " F-014:25-36 ",
        to: "F-021:1-12",
        method: "fus",
        loss_ab_db: "0.05, 0.1",
        made_on: "3.4.26",
        even_if_taken: "yes",
      },
      habits,
    );
    expect(problems.size + missing.length).toBe(0);
    expect(input).toEqual({
      from: "F-014:25-36",
      to: "F-021:1-12",
      method: "fusion",
      loss_ab_db: [0.05, 0.1],
      made_on: "2026-04-03",
      even_if_taken: true,
    });
  });

  it("puts a way into its stop, keeps a stop nobody knows the place of, and leaves other empty rows out", () => {
    const { input } = buildInput(
      act("cable.enter"),
      {
        tag: "F-1",
        stops: [{ space: "LIB/101", "way.pathway": "DB-1", mark_out: "20 ft" }, { space: " " }, { space: "MH-3" }],
        mark_breaks: [{}],
        differs: [{ field: "outer_diameter_mm", value: "14.2" }],
      },
      habits,
    );
    expect(input).toEqual({
      tag: "F-1",
      stops: [{ space: "LIB/101", way: { pathway: "DB-1" }, mark_out: "20 ft" }, {}, { space: "MH-3" }],
      differs: { outer_diameter_mm: 14.2 },
    });
  });

  it("says which blanks are missing and which can't be read", () => {
    const { problems, missing } = buildInput(act("strand.land"), { strands: "F-1:1", made_on: "someday" }, habits);
    expect(missing).toEqual(["ports"]);
    expect(problems.get("made_on")).toMatch(/day of the calendar/);
  });
});

describe("a refusal", () => {
  it("stands beside the blank it concerns", () => {
    const placed = placeProblems(act("cable.enter"), {
      code: "bad_input",
      message: "",
      problems: [
        { row: 2, field: "mark in", reason: "is a word" },
        { field: "type", record: "LT", reason: "is not on record" },
        { reason: "of no blank" },
      ],
    });
    expect([...placed.at.keys()]).toEqual(["stops.1.mark_in", "type"]);
    expect(placed.elsewhere).toHaveLength(1);
  });
});

it("enters a panel, a cassette and a cable as the forms write them", async () => {
  const plant = await newPlant();
  await plant.run("record.add", { kind: "building", values: { tag: "LIB" } });
  await plant.run("record.add", { kind: "space", values: { tag: "101", building_id: "LIB" } });
  const done = async (name: string, values: Parameters<typeof buildInput>[1]) => {
    const one = act(name);
    const { input, problems, missing } = buildInput(one, values, habits);
    expect([...problems, ...missing]).toEqual([]);
    const written = await plant.run<{ answer: unknown }>(one.operation, input);
    return one.button(written.answer);
  };
  expect(
    await done("panel.enter", { tag: "A", space: "LIB/101", ports: [{ numbers: "01..12", connector: "LC duplex" }] }),
  ).toBe("Enter the panel with 12 ports");
  expect(
    await done("module.enter.cassette", {
      tag: "M1",
      in: "LIB/101/A",
      rear: [{ numbers: "R1", connector: "MPO array", positions: "12" }],
      front: [{ numbers: "1..6", connector: "lc_duplex" }],
      map: "straight",
    }),
  ).toBe("Enter the cassette with 12 joins");
  expect(
    await done("cable.enter", {
      tag: "F-1",
      units: [{ kind: "tube", repeats: "2", strands: "12" }],
      colour_sequence: "TIA",
      stops: [{ space: "LIB/101" }, { space: "", kind: "ends" }],
    }),
  ).toBe("Enter F-1: 24 strands, 2 stops");
});
