import { beforeAll, describe, expect, it } from "vitest";
import type { KindName } from "../../core/model/dictionary.ts";
import type { ResolveAnswer } from "../../core/operations/subjects/addresses.ts";
import { Refusal } from "../../core/result.ts";
import { resolveOne, resolvePorts, resolvePositions, resolveStrands } from "../../core/store/addresses.ts";
import { type Campus, newCampus } from "./campus.ts";

let campus: Campus;
beforeAll(async () => {
  campus = await newCampus();
  return () => campus.close();
});

const resolve = (text: string, kinds?: readonly KindName[]) =>
  campus.run<ResolveAnswer>("address.resolve", { text, ...(kinds ? { kinds } : {}) });
/** What a text means, as `kind tag how`. */
const means = async (text: string, kinds?: readonly KindName[]) =>
  (await resolve(text, kinds)).matches.map(({ kind, tag, how }) => `${kind} ${tag} ${how}`);
const one = (text: string, kinds?: readonly KindName[]) =>
  campus.store.read((reader) => resolveOne(reader, text, { field: "what", ...(kinds ? { kinds } : {}) }));
const strands = async (text: string) => {
  const named = await campus.store.read((reader) => resolveStrands(reader, text, { field: "strands" }));
  return `${named.cable.tag}:${named.strands.map(({ number, section }) => `${number}${section ? `#${section}` : ""}`).join(",")}`;
};
const ports = async (text: string) => {
  const named = await campus.store.read((reader) => resolvePorts(reader, text, { field: "ports" }));
  return named.map(({ tag, position }) => (position === undefined ? tag : `${tag}#${position}`)).join(" ");
};
const failure = async (promise: Promise<unknown>) => {
  try {
    return { code: `answered ${JSON.stringify(await promise)}`, message: "", problems: [] };
  } catch (error) {
    if (error instanceof Refusal) return error.failure;
    throw error;
  }
};

describe("a last part that is not there", () => {
  it.each([
    ["F-012@99", /^F-012 has \d+ stops$/],
    ["F-012@0", /^F-012 has \d+ stops$/],
    ["F-012:25#3", /^F-012:25 has one section$/],
  ])("of %s is told with what there is", async (text, reason) => {
    const answer = await resolve(text);
    expect([answer.matches, answer.strands, answer.ports]).toEqual([[], [], []]);
    expect(answer.reasons).toEqual([expect.stringMatching(reason)]);
    expect((await failure(one(text))).problems).toMatchObject([{ field: "what", reason: answer.reasons[0] }]);
  });
});

describe("what an address can't say", () => {
  it("is that a cable without colours has none, not that the tube isn't there", async () => {
    await campus.act("cable.enter", {
      tag: "Q-1",
      units: [{ kind: "tube", repeats: 2, strands: 12 }],
      stops: [{ space: "MH-01" }, { space: "MH-02" }],
    });
    expect((await resolve("Q-1 GR")).reasons).toEqual([
      "Q-1 has no colours on record, so GR can't be found: choose its colour sequence",
    ]);
    expect((await resolve("F-012 QQ")).reasons[0]).not.toContain("no colours on record");
  });

  it("is which of a strand named twice is meant", async () => {
    expect((await resolve("F-012:1-3,3")).reasons).toEqual(["F-012:3 is named twice"]);
  });
});

describe("an address as it stands", () => {
  it.each([
    ["LIB", "building LIB exact"],
    ["LIB/101", "space LIB/101 exact"],
    ["MH-02", "space MH-02 exact"],
    ["MH-02/CL-1/T2", "tray MH-02/CL-1/T2 exact"],
    ["DB-1/2", "conduit DB-1/2 exact"],
    ["F-012", "cable F-012 exact"],
    ["F-012@3", "stop F-012@3 exact"],
    ["F-012:25", "strand F-012:25 exact"],
    ["F-012:25#1", "section F-012:25#1 exact"],
    ["F-012/3", "unit F-012/3 exact"],
    ["R-864/2/12", "unit R-864/2/12 exact"],
    ["LIB/101/A", "panel LIB/101/A exact"],
    ["LIB/101/A:07", "port LIB/101/A:07 exact"],
    ["LIB/101/A:07#2", "position LIB/101/A:07#2 exact"],
    ["LIB/101/A:07#B", "position LIB/101/A:07#2 exact"],
    ["LIB/101/A/M1:IN", "port LIB/101/A/M1:IN exact"],
    ["LIB/101/SW-1:1/0/24", "port LIB/101/SW-1:1/0/24 exact"],
    ["LIB/101/SW-1:1%2F0%2F24", "port LIB/101/SW-1:1/0/24 exact"],
    ["K-100", "circuit K-100 exact"],
    ["RIBBON-864/1/1", "unit_type RIBBON-864/1/1 exact"],
    ["LOOSE-48", "cable_type LOOSE-48 exact"],
  ])("%s is %s", async (text, expected) => expect(await means(text)).toEqual([expected]));

  it("of a position by letter is one of a duplex port alone", async () => {
    expect(await means("SCI/B01/A:1#A")).toEqual([]);
    expect(await means("LIB/101/B-2:A1#B", ["position"])).toEqual([]);
  });
  it("names only records of the kinds asked for", async () => {
    expect(await means("LIB/101", ["building"])).toEqual([]);
  });
  it("reads a tag that holds dividing signs, with escapes or as it is", async () => {
    await campus.act("cable.enter", { tag: "B/12:x", stops: [{}, {}] });
    expect(await means("B%2F12%3Ax")).toEqual(["cable B%2F12%3Ax exact"]);
    expect(await means("B/12:x")).toEqual(["cable B%2F12%3Ax exact"]);
    expect(await means("B%2F12%3Ax@1")).toEqual(["stop B%2F12%3Ax@1 exact"]);
  });
});

describe("an address as people write it", () => {
  it.each([
    ["f-012", "cable F-012 folded"],
    ["F 012", "cable F-012 folded"],
    ["f12", "cable F-012 folded"],
    ["lib/101/a:7", "port LIB/101/A:07 folded"],
    ["LIB/101/B2", "panel LIB/101/B-2 folded"],
    ["mh02", "space MH-02 folded"],
    ["LIB 101 B-2", "panel LIB/101/B-2 folded"],
    ["MH 02 CL-1 T1", "tray MH-02/CL-1/T1 folded"],
    ["LIB B-2", "panel LIB/101/B-2 folded"],
    ["LIB/SW1", "device LIB/101/SW-1 folded"],
    ["panel LIB/101/A", "panel LIB/101/A exact"],
    ["cable F-012", "cable F-012 exact"],
    ["F-012 25", "strand F-012:25 folded"],
    ["F-012 · 25", "strand F-012:25 folded"],
    ["021 or bl", "strand 021:13 folded"],
    ["F-012 GR", "unit F-012/3 folded"],
    ["F-012 T3", "unit F-012/3 folded"],
    ["F-012 tube 3", "unit F-012/3 folded"],
    ["R-864/GR/R3/BL", "strand R-864:313 folded"],
    ["R-864 GR/R3", "unit R-864/3/3 folded"],
    ["LIB A 7", "port LIB/101/A:07 folded"],
    ["LIB A 7#B", "position LIB/101/A:07#2 folded"],
  ])("%s is %s", async (text, expected) => expect(await means(text)).toEqual([expected]));

  it("is ambiguous where folding finds two, and exact where one is written so", async () => {
    await campus.put("space", { tag: "HH-1" }, { tag: "HH 1" }, { tag: "HH-01" });
    expect(await means("HH-1", ["space"])).toEqual(["space HH-1 exact"]);
    expect(await means("hh1", ["space"])).toHaveLength(3);
    const error = await failure(one("hh1", ["space"]));
    expect(error.code).toBe("ambiguous");
    expect(error.problems.map(({ reason }) => reason).sort()).toEqual([
      "may be space HH 1",
      "may be space HH-01",
      "may be space HH-1",
    ]);
  });

  it("by a tag it had before tells what it is called now", async () => {
    expect(await means("LIB/101/P1")).toEqual(["panel LIB/101/A former"]);
    expect(await means("LIB/101/P1:07")).toEqual(["port LIB/101/A:07 former"]);
    expect(await means("LIB/101/B-2:07")).toEqual(["port LIB/101/B-2:31 former"]);
  });
});

describe("one record", () => {
  it("that isn't on record is refused with what comes close", async () => {
    const error = await failure(one("F-021", ["cable"]));
    expect(error.code).toBe("not_found");
    expect(error.message).toMatch(/^There is no cable F-021; nearest are .*F-012/);
    expect(error.problems[0]).toMatchObject({ record: "F-021", field: "what" });
    expect((await failure(one("LIB/101/Z", ["panel"]))).message).toMatch(/nearest is LIB\/101\/A/);
    expect((await failure(one("MH-20", ["space"]))).message).toMatch(/MH-02/);
    expect((await failure(one("zzzzzzzz", ["cable"]))).message).toBe("There is no cable zzzzzzzz.");
  });
  it("that can be two things is refused with both", async () => {
    await campus.put("circuit", { tag: "F-012" });
    const error = await failure(one("F-012"));
    expect(error.code).toBe("ambiguous");
    expect(error.problems.map(({ reason }) => reason)).toEqual(["may be cable F-012", "may be circuit F-012"]);
    expect((await one("F-012", ["cable"])).kind).toBe("cable");
    expect((await one("circuit F-012")).kind).toBe("circuit");
  });
  it("says why a strand or port isn't there", async () => {
    expect((await failure(one("F-012:49", ["strand"]))).message).toMatch(
      /F-012 has strands 1 to 48; 49 is beyond the count/,
    );
    expect((await failure(one("LIB/101/A:25", ["port"]))).message).toMatch(/LIB\/101\/A has ports 01 to 24/);
  });
  it("must be an address", async () => {
    expect(await failure(one(""))).toMatchObject({
      code: "bad_input",
      problems: [{ field: "what", reason: "is empty" }],
    });
    expect((await failure(one("LIB//A"))).code).toBe("bad_input");
    expect((await failure(one("x".repeat(500)))).message).toMatch(/longer than 400/);
  });
});

describe("strands", () => {
  it.each([
    ["F-012:25-27,40", "F-012:25,26,27,40"],
    ["F-012 25-27", "F-012:25,26,27"],
    ["F-012 · 25", "F-012:25"],
    ["f12: 3 , 1", "F-012:3,1"],
    ["F-012:5#1", "F-012:5#1"],
    ["F-012 GR/BL-BR", "F-012:25,26,27,28"],
    ["F-012:GR/BL,OR/AQ", "F-012:25,24"],
    ["F-012 GR", "F-012:25,26,27,28,29,30,31,32,33,34,35,36"],
    ["F-012 GR/1-2", "F-012:25,26"],
    ["F-012 GR 11-12", "F-012:35,36"],
    ["F-012 BL-OR/AQ", "F-012:12,24"],
    ["F-012/3/2", "F-012:26"],
    ["021 or bl", "021:13"],
    ["R-864 GR/R3/BL", "R-864:313"],
    ["R-864 GR/R3", "R-864:313,314,315,316,317,318,319,320,321,322,323,324"],
    // No tube: the strand's own colour says all.
    ["S-12 violet", "S-12:6"],
    ["S-12 red-yellow", "S-12:1,2,3"],
  ])("%s are %s", async (text, expected) => expect(await strands(text)).toBe(expected));

  it.each([
    ["F-012:0", "bad_input", /strand 0; strands count from 1/],
    ["F-012:47-50", "not_found", /49-50 are beyond the count/],
    ["F-012:36-25", "bad_input", /runs backwards; write 25-36/],
    ["F-012 BR-BL/1", "bad_input", /BR-BL runs backwards/],
    ["F-012:25-30,28", "bad_input", /names F-012:28 twice/],
    ["F-012 GR/BL,25", "bad_input", /twice/],
    ["F-012 gold", "not_found", /none of which is gold/],
    ["F-012", "bad_input", /must be a cable and strands|write a cable and numbers/],
    ["F-099:1", "not_found", /There is no cable F-099/],
    ["F-012:5#2", "not_found", /the strand has one section/],
    ["", "bad_input", /write a cable and numbers/],
  ])("%s is refused", async (text, code, message) => {
    const error = await failure(strands(text));
    expect(error.code).toBe(code);
    expect(error.message).toMatch(message);
  });

  it("of a colour that may be two are refused with both", async () => {
    const error = await failure(strands("S-12 BL"));
    expect(error.code).toBe("ambiguous");
    expect(error.problems.map(({ reason }) => reason)).toEqual([
      "may be strand 4 (blue): S-12:4",
      "may be strand 8 (black): S-12:8",
    ]);
    // The same text on a cable of the TIA order can only be blue.
    expect(await strands("F-012 BL/BL")).toBe("F-012:1");
  });
  it("after a tube may go on in it or begin anew, which is asked", async () => {
    const error = await failure(strands("F-012 GR/1-2,BR"));
    expect(error.code).toBe("ambiguous");
    expect(error.problems.map(({ reason }) => reason.split(": ").at(-1))).toEqual([
      "F-012:25-26,37-48",
      "F-012:25-26,28",
    ]);
  });
  it("after cables whose tags begin alike are asked", async () => {
    await campus.act("cable.enter", { tag: "Q", units: [{ kind: "tube", repeats: 1, strands: 20 }], stops: [{}, {}] });
    await campus.act("cable.enter", {
      tag: "Q 2",
      units: [{ kind: "tube", repeats: 1, strands: 20 }],
      stops: [{}, {}],
    });
    expect(await strands("Q 5")).toBe("Q:5");
    expect(await strands("Q 2:5")).toBe("Q 2:5");
    // "Q 2 5": strand 5 of Q 2, or position 5 of a unit 2 that Q hasn't.
    expect(await strands("Q 2 5")).toBe("Q 2:5");
  });
  it("that lie in the sheath beside tubes are found there, and the sheath has no colour", async () => {
    await campus.act("cable.enter", { tag: "M-20", type: "MIXED-20", stops: [{}, {}] });
    const error = await failure(strands("M-20 BL"));
    expect(error.problems.map(({ reason }) => reason.split(": ").at(-1))).toEqual(["M-20:1-12", "M-20:13"]);
    expect(await strands("M-20 OR/GR")).toBe("M-20:17");
    expect((await failure(strands("M-20 GR"))).code).toBe("not_found");
  });
  it("of the only tube may leave it out", async () => {
    await campus.act("cable.enter", {
      tag: "ONE",
      units: [{ kind: "tube", repeats: 1, strands: 12 }],
      stops: [{}, {}],
    });
    const cable = await campus.find("cable", { tag: "ONE" });
    await campus.run("record.edit", {
      kind: "cable",
      id: cable[0]?.id,
      values: { colour_sequence: "tia_598" },
    });
    expect(await strands("ONE GR")).toBe("ONE:3");
    const both = await failure(strands("ONE BL"));
    expect(both.code).toBe("ambiguous");
    expect(await strands("ONE BL/BL")).toBe("ONE:1");
  });
});

describe("ports", () => {
  it.each([
    ["LIB/101/A:01-03", "LIB/101/A:01 LIB/101/A:02 LIB/101/A:03"],
    ["LIB/101/A:1-3,24", "LIB/101/A:01 LIB/101/A:02 LIB/101/A:03 LIB/101/A:24"],
    ["LIB A 1-2", "LIB/101/A:01 LIB/101/A:02"],
    ["LIB/101/A:07#B", "LIB/101/A:07#2"],
    ["LIB/101/A:1-2#A", "LIB/101/A:01#1 LIB/101/A:02#1"],
    ["LIB/101/B-2:A1-A3", "LIB/101/B-2:A1 LIB/101/B-2:A2 LIB/101/B-2:A3"],
    ["LIB/101/B-2:A3 - B1", "LIB/101/B-2:A3 LIB/101/B-2:B1"],
    ["LIB/101/B-2:MPO1#3-5", "LIB/101/B-2:MPO1#3 LIB/101/B-2:MPO1#4 LIB/101/B-2:MPO1#5"],
    ["LIB/101/SW-1:1/0/24", "LIB/101/SW-1:1/0/24"],
    ["LIB/101/A/M1:*", "LIB/101/A/M1:1 LIB/101/A/M1:IN"],
    ["LIB/101/B-2:07", "LIB/101/B-2:31"],
  ])("%s are %s", async (text, expected) => expect(await ports(text)).toBe(expected));

  it.each([
    ["LIB/101/A:25", "not_found", /has ports 01 to 24, none of them 25/],
    ["SCI/B01/A:1-4", "not_found", /SCI\/B01\/A has no port 3/],
    ["LIB/101/A:5-2", "bad_input", /runs backwards/],
    ["LIB/101/A:1,1", "bad_input", /names 01 twice/],
    ["LIB/101/A:1,1#A", "bad_input", /names 01#1 twice/],
    ["LIB/101/A:1#3", "not_found", /port 01 has 2 positions; 3 is beyond/],
    ["LIB/101/B-2:A1#B", "not_found", /port A1 has no position B/],
    ["LIB/101/C:1", "not_found", /no panel, module or device LIB\/101\/C/],
    ["LIB/101/A", "bad_input", /write a panel and numbers/],
  ])("%s is refused", async (text, code, message) => {
    const error = await failure(ports(text));
    expect(error.code).toBe(code);
    expect(error.message).toMatch(message);
  });

  it("of a panel tag that two rooms have are asked", async () => {
    await campus.put("space", { tag: "102", building_id: (await campus.find("building", { tag: "LIB" }))[0]?.id ?? 0 });
    const [room] = await campus.find("space", { tag: "102" });
    const [panel] = await campus.put("panel", { tag: "A", space_id: room?.id ?? 0 });
    await campus.put("port", { tag: "1", panel_id: panel ?? 0 });
    const error = await failure(ports("LIB A 1"));
    expect(error.code).toBe("ambiguous");
    expect(error.problems.map(({ reason }) => reason)).toEqual([
      "may be panel LIB/101/A, port 01",
      "may be panel LIB/102/A, port 1",
    ]);
  });

  it("give their positions in order", async () => {
    const { positions, owner } = await campus.store.read((reader) => resolvePositions(reader, "LIB/101/A:2,1#B"));
    expect(owner.tag).toBe("LIB/101/A");
    expect(positions.map(({ port, ordinal }) => `${port}#${ordinal}`)).toEqual(["02#1", "02#2", "01#2"]);
  });
});

describe("what an address means, asked for a cell", () => {
  it("tells ranges by their strands or ports", async () => {
    expect((await resolve("F-012 GR/BL-BR")).strands).toMatchObject([
      { cable: { kind: "cable", tag: "F-012" }, numbers: [25, 26, 27, 28], words: "F-012:25-28" },
    ]);
    expect((await resolve("LIB/101/A:1-2")).ports).toMatchObject([
      { owner: { tag: "LIB/101/A" }, tags: ["LIB/101/A:01", "LIB/101/A:02"] },
    ]);
  });
  it("tells why not, and what comes close", async () => {
    expect((await resolve("F-012:99")).reasons.join()).toMatch(/99 is beyond the count/);
    expect((await resolve("F-O12")).nearest).toContain("F-012");
  });
});
