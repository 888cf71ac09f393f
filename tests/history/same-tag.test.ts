/** Two records that want one tag once two files of a plant are brought together. */
import { describe, expect, it } from "vitest";
import { refusalOf } from "../store/on-file.ts";
import { contents } from "./contents.ts";
import { compare, merge, parted, run, said, threeCables } from "./parted.ts";
import { add, edit } from "./story.ts";

describe("two records that want one tag", () => {
  /** Here a new cable F-9; there F-3, which is old, was renamed to F-9. */
  const renamedThere = async () => {
    const both = await parted(threeCables);
    await run(both.office, add("cable", { tag: "F-9", name: "laid by us" }));
    await run(both.field, edit("cable", "F-3", { tag: "F-9", notes: "label read" }));
    return both;
  };
  const key = "cable 3 same tag";

  it("are a conflict, not a refusal: nothing is taken before it is chosen", async () => {
    const { office, field } = await renamedThere();
    const compared = await compare(office, field);
    expect(compared.hindrances).toEqual([]);
    expect(compared.open).toBe(1);
    expect(compared.conflicts).toMatchObject([
      {
        key,
        why: "same_tag",
        words: "two records want one tag: F-9",
        ours: "F-9",
        takes: ["ours", "theirs", "both"],
        take: null,
      },
    ]);
    const refused = await refusalOf(merge(office, field), "not_possible");
    expect(refused.message).toContain("1 conflict is open");
  });
  it("keep ours: their rename isn't taken, and the rest of what they say is", async () => {
    const { office, field } = await renamedThere();
    await merge(office, field, { choices: [{ key, take: "ours" }] });
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-2", "F-3", "F-9"]);
    expect(await said(office, "cable", "notes")).toEqual([null, null, "label read", null]);
  });
  it("take theirs: what was entered here under that tag is left out", async () => {
    const { office, field } = await renamedThere();
    await merge(office, field, { choices: [{ key, take: "theirs" }] });
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-2", "F-9"]);
    await office.run("history.undo");
    expect(await said(office, "cable", "name")).toEqual(["F-1 as laid", "F-2 as laid", "F-3 as laid", "laid by us"]);
  });
  it("take both: theirs gets the tag that is given, and one undo takes it back", async () => {
    const { office, field } = await renamedThere();
    const before = await contents(office);
    await merge(office, field, { choices: [{ key, take: "both", tag: "F-9B" }] });
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-2", "F-9B", "F-9"]);
    await office.run("history.undo");
    expect(await contents(office)).toEqual(before);
  });
  it("take both under a tag that is taken, too, is told before anything is written", async () => {
    const { office, field } = await renamedThere();
    const compared = await compare(office, field, { choices: [{ key, take: "both", tag: "F-1" }] });
    expect(compared.hindrances).toEqual([{ record: "F-3", field: "tag", reason: "F-1 is taken" }]);
    const unnamed = await refusalOf(compare(office, field, { choices: [{ key, take: "both" }] }), "bad_input");
    expect(unnamed.problems).toEqual([{ record: key, field: "tag", reason: "is empty" }]);
  });
  it("both entered since: one and the same unless both are chosen, each with what lies in it", async () => {
    const enter = async () => {
      const both = await parted(async (plant) => {
        await run(plant, add("building", { tag: "LIB" }));
        await run(plant, add("space", { tag: "1", building_id: "LIB", kind: "telecom_room" }));
      });
      const panel = (model: string, numbers: string) =>
        ["panel.enter", { tag: "P", space: "LIB/1", model, ports: [{ numbers, connector: "lc" }] }] as [string, object];
      await run(both.office, panel("Ours", "1..2"));
      await run(both.field, panel("Theirs", "1..4"));
      return both;
    };
    const one = await enter();
    const compared = await compare(one.office, one.field);
    expect(compared.conflicts.map(({ key: name, offered }) => [name, offered])).toEqual([
      ["panel 1 same tag", true],
      ["panel 1 kind", false],
    ]);
    await merge(one.office, one.field, { rest: "theirs" });
    expect([await said(one.office, "panel", "kind"), await said(one.office, "port", "tag")]).toEqual([
      ["Theirs"],
      ["1", "2", "3", "4"],
    ]);
    const two = await enter();
    const choices = [{ key: "panel 1 same tag", take: "both", tag: "P2" }];
    expect(await compare(two.office, two.field, { choices })).toMatchObject({ open: 0, hindrances: [] });
    await merge(two.office, two.field, { choices });
    expect([await said(two.office, "panel", "tag"), await said(two.office, "panel", "kind")]).toEqual([
      ["P", "P2"],
      ["Ours", "Theirs"],
    ]);
    const ports = (await contents(two.office)).port as { panel_id: number }[];
    expect(Object.values(Object.groupBy(ports, ({ panel_id }) => panel_id)).map((some) => some?.length)).toEqual([
      2, 4,
    ]);
  });
  it("both taken once: who compares the files again is not asked again, and what they changed since is still taken", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("cable", { tag: "F-9", name: "ours" }));
    await run(field, add("cable", { tag: "F-9", name: "theirs" }));
    await merge(office, field, { choices: [{ key: "cable 4 same tag", take: "both", tag: "F-9B" }] });
    const again = await compare(office, field);
    expect([again.conflicts, again.would?.counts]).toEqual([[], []]);
    await run(office, edit("cable", "F-9B", { notes: "looked at" }));
    await run(field, add("cable", { tag: "F-10" }));
    const later = await compare(office, field);
    expect([later.conflicts, later.would?.counts]).toMatchObject([[], [{ kind: "cable", added: 1, changed: 0 }]]);
    for (let back = 0; back < 2; back++) await office.run("history.undo");
    expect((await compare(office, field)).conflicts.map(({ key: name }) => name)).toContain("cable 4 same tag");
  });
  it("both taken after their fields were chosen: those choices fit nothing more, which is told and refuses only the merge", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, add("cable", { tag: "F-9", name: "ours" }));
    await run(field, add("cable", { tag: "F-9", name: "theirs" }));
    const fields = { key: "cable 4 name", take: "theirs" };
    expect(await compare(office, field, { choices: [fields] })).toMatchObject({ open: 0, idle: [] });
    const choices = [fields, { key: "cable 4 same tag", take: "both", tag: "F-9B" }];
    expect(await compare(office, field, { choices })).toMatchObject({ open: 0, idle: ["cable 4 name"] });
    const refused = await refusalOf(merge(office, field, { choices }), "not_found");
    expect(refused.problems).toEqual([{ record: "cable 4 name", reason: "is not a conflict" }]);
    await merge(office, field, { choices: choices.slice(1) });
    expect(await said(office, "cable", "name")).toEqual([
      ...["F-1", "F-2", "F-3"].map((tag) => `${tag} as laid`),
      "ours",
      "theirs",
    ]);
  });
  it("renamed to one tag here and there: taking theirs gives ours its name of before", async () => {
    const { office, field } = await parted(threeCables);
    await run(office, edit("cable", "F-1", { tag: "F-9" }));
    await run(field, edit("cable", "F-2", { tag: "F-9" }));
    await merge(office, field, { rest: "theirs" });
    expect(await said(office, "cable", "tag")).toEqual(["F-1", "F-9", "F-3"]);
  });
});
