import { beforeAll, describe, expect, it } from "vitest";
import { KIND_NAMES, type KindName, kindOf } from "../../core/model/dictionary.ts";
import { addressesOf, resolve } from "../../core/store/addresses.ts";
import { type Campus, newCampus } from "./campus.ts";

let campus: Campus;
beforeAll(async () => {
  campus = await newCampus();
  const { idOf, put } = campus;
  await campus.act("cable.open", { cable: "F-012", stop: "MH-02", closure: "MH-02/CL-1", cut: "31" });
  const section = (address: string) => idOf("section", address);
  await put(
    "splice",
    {
      a_section_id: await section("F-012:31#1"),
      a_side: "B",
      b_section_id: await section("F-120:7#1"),
      b_side: "B",
      tray_id: await idOf("tray", "MH-02/CL-1/T2"),
    },
    { a_section_id: await section("F-120:8#1"), a_side: "A", b_section_id: await section("F-120:9#1"), b_side: "A" },
  );
  const circuit = await idOf("circuit", "K-100");
  await put("termination", {
    section_id: await section("F-012:1#1"),
    side: "A",
    position_id: await idOf("position", "LIB/101/A:07#1"),
  });
  await put(
    "assignment",
    { circuit_id: circuit, section_id: await section("F-012:1#1"), role: "transmit", band: "1310" },
    { circuit_id: circuit, section_id: await section("F-012:31#2") },
  );
  await put("diversity", { circuit_id: circuit, other_id: await idOf("circuit", "K-200") });
  const [busbar] = await put("busbar", { tag: "G1", space_id: await idOf("space", "MH-02") });
  await put("bond", { busbar_id: busbar ?? 0, stop_id: await idOf("stop", "F-012@3") });
  const cable = await idOf("cable", "F-012");
  await put(
    "label",
    { subject_kind: "cable", subject_id: cable, space_id: await idOf("space", "MH-01"), text: "F-012" },
    { subject_kind: "panel", subject_id: await idOf("panel", "LIB/101/A") },
  );
  await put("attachment", { subject_kind: "cable", subject_id: cable, name: "reel.jpg", content_hash: "ab" });
  await put("cord", { a_port_id: await idOf("port", "LIB/101/A:02"), a_first: 1, b_first: 1, fibres: 2 });
  await put("exception", {
    rule: "truth.assigned_twice",
    finding: "F-012:1",
    facts_digest: "d",
    reason: "known",
    accepted_by: "A",
    accepted_on: "2024-01-01",
  });
  await put("sign_off", {
    signed_by: "Auditor",
    signed_on: "2024-02-03",
    content_hash: "h",
    rules_version: "1",
    change_set: 1,
  });
  await put("job", { tag: "J-1" });
  await put("job_step", { job_id: (await campus.find("job"))[0]?.id ?? 0, ordinal: 2, act: "splice" });
  await put("measurement", { tag: "M-1", subject_kind: "strand", subject_id: await idOf("strand", "F-012:1") });
  await put("measurement_event", { measurement_id: (await campus.find("measurement"))[0]?.id ?? 0, ordinal: 1 });
  await put("firestop", { tag: "FS-1", pathway_id: await idOf("pathway", "BE-1") });
  await put("party", { tag: "CARRIER" });
  await put("visit", { tag: "V-1", made_on: "2024-01-01" });
  await put("limit_value", { tag: "slack.keep" });
  await put("label_template", { tag: "outdoor", place: "outdoor", text: "{tag}" });
  await put("label_sheet", { tag: "tape 12", form: "tape", label_height_mm: 12 });
  return () => campus.close();
});

const all = async (kind: KindName) => {
  const rows = await campus.find(kind);
  const names = await campus.store.read((reader) =>
    addressesOf(
      reader,
      kind,
      rows.map(({ id }) => id),
    ),
  );
  return rows.map(({ id }) => names.get(id));
};

describe("a record without an address", () => {
  it.each<[KindName, string[]]>([
    ["splice", ["splice F-012:31#1 to F-120:7 in MH-02/CL-1/T2", "splice F-120:8 to F-120:9"]],
    ["termination", ["termination F-012:1 on LIB/101/A:07#1"]],
    ["cord", ["cord C-7 from LIB/101/A:01 to LIB/101/SW-1:1/0/24", "cord LIB/101/A:02 to nowhere"]],
    ["module_join", ["join LIB/101/A/M1:IN#1 to LIB/101/A/M1:1#1"]],
    ["interface", ["interface LIB/101/SW-1:1/0/24"]],
    ["assignment", ["assignment K-100 on F-012:1 transmit 1310 nm", "assignment K-100 on F-012:31#2"]],
    ["diversity", ["K-100 diverse from K-200"]],
    ["bond", ["bond from F-012@3 to MH-02/G1"]],
    ["label", ["label on F-012 at MH-01", "label on LIB/101/A"]],
    ["attachment", ["reel.jpg of F-012"]],
    ["exception", ["exception to truth.assigned_twice: F-012:1"]],
    ["sign_off", ["sign-off of 2024-02-03 by Auditor"]],
    ["plant", ["Test Campus"]],
  ])("a %s is described by what it joins", async (kind, expected) => expect(await all(kind)).toEqual(expected));

  it("a leg is described by its stops and its way", async () => {
    expect((await all("leg")).slice(0, 2)).toEqual([
      "leg F-012@1 to F-012@2 in BE-1",
      "leg F-012@2 to F-012@3 in DB-1/1",
    ]);
  });
});

describe("the address of a record with one", () => {
  it("means that record again, for every record of every kind", async () => {
    const tried = new Set<KindName>();
    for (const kind of KIND_NAMES.filter((each) => kindOf(each).address !== null)) {
      const rows = await campus.find(kind);
      const names = await campus.store.read((reader) =>
        addressesOf(
          reader,
          kind,
          rows.map(({ id }) => id),
        ),
      );
      for (const { id } of rows.slice(0, 60)) {
        tried.add(kind);
        const found = await campus.store.read((reader) => resolve(reader, names.get(id) ?? "", { kinds: [kind] }));
        expect(found).toMatchObject([{ kind, id, tag: names.get(id), how: "exact" }]);
      }
    }
    const addressed = KIND_NAMES.filter((kind) => kindOf(kind).address !== null);
    expect(addressed.filter((kind) => !tried.has(kind))).toEqual([]);
  });

  it("of many records costs a query a level, however many there are", async () => {
    const rows = await campus.find("section");
    const count = async (ids: readonly number[]) => {
      let queries = 0;
      await campus.store.read(async (reader) => {
        const counting = {
          db: reader.db,
          lists: reader.lists.bind(reader),
          rows: ((sql, values) => {
            queries++;
            return reader.rows(sql, values);
          }) as typeof reader.rows,
        };
        await addressesOf(counting, "section", ids);
      });
      return queries;
    };
    const ids = rows.map(({ id }) => id);
    expect(ids.length).toBeGreaterThan(900);
    expect(await count(ids)).toBe(3);
    expect(await count(ids.slice(0, 1))).toBe(3);
    expect(await count([])).toBe(0);
  });

  it("of what isn't on record is left out", async () => {
    const names = await campus.store.read((reader) => addressesOf(reader, "cable", [999_999]));
    expect(names.size).toBe(0);
  });
});
