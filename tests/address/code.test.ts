/** The code on a printed paper, read by a scanner or typed off, leads to the record it names. */
import { beforeAll, describe, expect, it } from "vitest";
import type { FindAnswer, ResolveAnswer } from "../../core/operations/subjects/addresses.ts";
import { codeOf, readCode } from "../../core/paper/document.ts";
import { type Campus, newCampus } from "./campus.ts";

let campus: Campus;
beforeAll(async () => {
  campus = await newCampus();
  // Two kinds under one tag: the address alone would be read two ways.
  await campus.put("job", { tag: "TWIN-1" });
  await campus.put("circuit", { tag: "TWIN-1" });
  return () => campus.close();
});
const find = async (text: string, more: object = {}) =>
  (await campus.run<FindAnswer>("address.find", { text, ...more })).hits.map(({ ref }) => `${ref.kind} ${ref.tag}`);
const resolve = async (text: string) =>
  (await campus.run<ResolveAnswer>("address.resolve", { text })).matches.map(({ kind, tag }) => `${kind} ${tag}`);

describe("a code", () => {
  it("says kind and address, and is read back, whatever the address holds", () => {
    for (const [kind, address] of [
      ["job", "J-21"],
      ["stop", "F-012@3"],
      ["strand", "F-012:25#2"],
      ["port", "LIB/101/SW-2:1/0/24"],
    ] as const) {
      expect(readCode(codeOf(kind, address).says)).toEqual({ kind, address });
    }
    expect(readCode("  SBOK:JOB:J-21\n")).toEqual({ kind: "job", address: "J-21" });
    for (const text of ["J-21", "sbok:", "sbok:job", "sbok:job:", "F-012:25", "xsbok:job:J-21"])
      expect(readCode(text)).toBe(null);
  });
  it("finds the record of its kind alone, where the tag by itself finds two", async () => {
    expect((await find("TWIN-1")).sort()).toEqual(["circuit TWIN-1", "job TWIN-1"]);
    expect(await find("sbok:job:TWIN-1")).toEqual(["job TWIN-1"]);
    expect(await resolve("sbok:circuit:TWIN-1")).toEqual(["circuit TWIN-1"]);
  });
  it("finds a record by its full address", async () => {
    expect(await find("sbok:strand:F-012:25")).toEqual(["strand F-012:25"]);
    expect((await find("sbok:port:LIB/101/A:07"))[0]).toBe("port LIB/101/A:07");
    expect((await find("sbok:cable:F-012"))[0]).toBe("cable F-012");
  });
  it("finds nothing where its record isn't there, is of a kind not asked for, or of none that is known", async () => {
    expect(await find("sbok:job:J-999")).toEqual([]);
    expect(await find("sbok:job:TWIN-1", { kinds: ["circuit"] })).toEqual([]);
    expect(await find("sbok:nonsense:TWIN-1")).toEqual([]);
  });
});
