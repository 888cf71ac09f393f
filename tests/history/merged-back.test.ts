/** The field's copy takes over what the office settled when it merged that copy: nothing of it is asked a second time. */
import { describe, expect, it } from "vitest";
import type { TestPlant } from "../support/plant.ts";
import { contents } from "./contents.ts";
import { type Choices, compare, merge, parted, run, said, threeCables } from "./parted.ts";
import { add, edit, remove } from "./story.ts";

const name = (tag: string, text: string) => edit("cable", tag, { name: text });

/** One name of a cable, said otherwise here and there, and settled in the office. */
async function settled(rest: "ours" | "theirs") {
  const both = await parted(threeCables);
  await run(both.office, name("F-1", "north"));
  await run(both.field, name("F-1", "south"));
  await merge(both.office, both.field, { rest });
  return both;
}

/** Each takes what the other has, and neither is asked anything: then both say the same, and have nothing more to take. */
async function expectAgreed(office: TestPlant, field: TestPlant): Promise<void> {
  const compared = await compare(field, office);
  expect([compared.conflicts, compared.hindrances]).toEqual([[], []]);
  await merge(field, office);
  for (const [into, from] of [
    [office, field],
    [field, office],
    [office, field],
  ] as const) {
    const again = await compare(into, from);
    expect([again.conflicts, again.would?.counts]).toEqual([[], []]);
    expect((await merge(into, from)).change_set).toBeNull();
  }
}

describe("what the office settled", () => {
  it("by what stood there is taken over by the field without a question, and told as settled there", async () => {
    const { office, field } = await settled("ours");
    const compared = await compare(field, office);
    expect(compared.conflicts).toEqual([]);
    expect(compared.merged_before).toMatchObject({ in: "there", change_set: 5 });
    expect(compared.there).toEqual([
      { author: "Ada", change_sets: 1 },
      { author: "Clerk", change_sets: 1 },
    ]);
    await expectAgreed(office, field);
    expect(await said(field, "cable", "name")).toEqual(["north", "F-2 as laid", "F-3 as laid"]);
  });

  it("by what the field says is nothing to it, and stays the field's own to change", async () => {
    const { office, field } = await settled("theirs");
    await run(field, name("F-1", "far south"));
    const compared = await compare(field, office);
    expect([compared.conflicts, compared.would?.counts]).toEqual([[], []]);
    expect(await said(field, "cable", "name")).toEqual(["far south", "F-2 as laid", "F-3 as laid"]);
  });

  it("is asked again once the field says something else", async () => {
    const { office, field } = await settled("ours");
    await run(field, name("F-1", "far south"));
    expect((await compare(field, office)).conflicts).toMatchObject([
      { key: "cable 1 name", why: "both_changed", before: "south", ours: "far south", theirs: "north" },
    ]);
  });

  it("is asked again once the office says something else", async () => {
    const { office, field } = await settled("ours");
    await run(office, name("F-1", "far north"));
    expect((await compare(field, office)).conflicts).toMatchObject([
      { key: "cable 1 name", why: "both_changed", before: "south", ours: "south", theirs: "far north" },
    ]);
  });

  it("is asked again once the office undid its merge, and the office is asked anew though the field took it over", async () => {
    const { office, field } = await settled("ours");
    await office.run("history.undo");
    expect((await compare(field, office)).conflicts).toMatchObject([{ key: "cable 1 name", before: "F-1 as laid" }]);
    await office.run("history.redo");
    await run(field, add("building", { tag: "NEW" }));
    await merge(office, field);
    await merge(field, office);
    await office.run("history.undo");
    expect((await compare(office, field)).would?.counts).toMatchObject([{ kind: "building", added: 1 }]);
  });

  it("of a deletion is taken over either way", async () => {
    for (const rest of ["ours", "theirs"] as const) {
      const { office, field } = await parted(threeCables);
      await run(office, remove("cable", "F-1"));
      await run(field, name("F-1", "still there"));
      await run(field, remove("cable", "F-2"));
      await run(office, name("F-2", "kept"));
      await merge(office, field, { rest });
      await expectAgreed(office, field);
      expect([await said(office, "cable", "name"), await said(field, "cable", "name")]).toEqual(
        rest === "ours"
          ? [
              ["kept", "F-3 as laid"],
              ["kept", "F-3 as laid"],
            ]
          : [
              ["still there", "F-3 as laid"],
              ["still there", "F-3 as laid"],
            ],
      );
    }
  });

  it("of one tag for two records is taken over, whichever way", async () => {
    const ways: [Choices, string[]][] = [
      [{ choices: [{ key: "cable 3 same tag", take: "both", tag: "F-9B" }] }, ["F-1", "F-2", "F-9", "F-9B"]],
      [{ rest: "ours" }, ["F-1", "F-2", "F-3", "F-9"]],
      [{ rest: "theirs" }, ["F-1", "F-2", "F-9"]],
    ];
    for (const [choices, tags] of ways) {
      const { office, field } = await parted(threeCables);
      await run(office, add("cable", { tag: "F-9", name: "laid by us" }));
      await run(field, edit("cable", "F-3", { tag: "F-9" }));
      await merge(office, field, choices);
      await expectAgreed(office, field);
      for (const plant of [office, field])
        expect((await said(plant, "cable", "tag")).map(String).toSorted()).toEqual(tags);
    }
  });
});

describe("a record of the field that the office left out", () => {
  const leftOut = async () => {
    const both = await parted(async (plant) => {
      await run(plant, add("building", { tag: "OLD" }));
    });
    await run(both.office, remove("building", "OLD"));
    await run(both.field, add("space", { tag: "1", building_id: "OLD", kind: "telecom_room" }));
    await merge(both.office, both.field, { rest: "ours" });
    return both;
  };

  it("goes from the field with what it lay in", async () => {
    const { office, field } = await leftOut();
    await expectAgreed(office, field);
    expect(Object.keys(await contents(field))).toEqual(["plant"]);
  });

  it("is asked about where the field changed it since", async () => {
    const { office, field } = await leftOut();
    await run(field, edit("space", "OLD/1", { name: "in use" }));
    const { conflicts } = await compare(field, office);
    expect(conflicts).toMatchObject(
      [
        { key: "space 1", why: "left_out_there", words: "was left out there and changed here" },
        { key: "building 1", why: "rests_here" },
      ].toSorted((a, b) => a.key.localeCompare(b.key)),
    );
    await merge(field, office, { rest: "ours" });
    expect(await said(field, "space", "name")).toEqual(["in use"]);
  });
});

describe("a record of the field that the office took", () => {
  const taken = async () => {
    const both = await parted(threeCables);
    await run(both.office, add("building", { tag: "HERE" }));
    await run(both.field, add("building", { tag: "NEW" }));
    await merge(both.office, both.field);
    return both;
  };

  it("doesn't come back to the field where it was deleted there since", async () => {
    const { office, field } = await taken();
    await run(field, remove("building", "NEW"));
    await merge(field, office);
    expect(await said(field, "building", "tag")).toEqual(["HERE"]);
  });

  it("is deleted, renamed and emptied in the field as it was in the office since", async () => {
    const gone = await taken();
    await run(gone.office, remove("building", "NEW"));
    await expectAgreed(gone.office, gone.field);
    expect(await said(gone.field, "building", "tag")).toEqual(["HERE"]);
    const renamed = await taken();
    await run(renamed.office, edit("building", "NEW", { tag: "HALL" }));
    await expectAgreed(renamed.office, renamed.field);
    expect(await said(renamed.field, "building", "tag")).toEqual(["HALL", "HERE"]);
  });
});
