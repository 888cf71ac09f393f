import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import type { FeedsAnswer } from "../../core/feeds/answer.ts";
import type { Truth } from "../../core/synthetic/truth.ts";
import type { TraceAnswer } from "../../core/trace/answer.ts";
import { lockPath } from "../../host/lock.ts";
import { Connection } from "../../host/sqlite-connection.ts";
import { newFolder } from "../support/plant.ts";
import { cli, newFile, withBuildings } from "./support.ts";

describe("a new plant file", () => {
  it("is made, and never over another", async () => {
    const file = await newFile();
    const again = await cli(["new", file]);
    expect([again.code, again.notes]).toEqual([
      1,
      "campus.strandbook exists already. Choose another name, or move it away first.\n",
    ]);
    expect((await cli(["sample", file])).code).toBe(1);
    expect((await cli(["generate", file, "--strands", "10", "--seed", "1"])).code).toBe(1);
  });
  it("bears the name it was given, or its file's", async () => {
    const file = join(newFolder(), "North yard.strandbook");
    const made = await cli(["new", file, "--json"]);
    expect(made.json()).toMatchObject({ path: file });
    expect((await cli(["status", file, "--json"])).json()).toMatchObject({ name: "North yard" });
  });
});

describe("strandbook generate", () => {
  it("makes the same plant from the same numbers", async () => {
    const folder = newFolder();
    const [a, b] = [join(folder, "a.strandbook"), join(folder, "b.strandbook")];
    for (const file of [a, b]) {
      expect((await cli(["generate", file, "--strands", "300", "--seed", "5"])).code).toBe(0);
    }
    const strands = (await cli(["list", a, "strand", "--json"])).json<unknown[]>();
    expect(strands).toHaveLength(300);
    expect((await cli(["list", b, "strand", "--json"])).json()).toEqual(strands);
    expect(readdirSync(folder).sort()).toEqual(["a.strandbook", "b.strandbook"]);
  });
  it("leaves nothing when it is stopped, and tells how far it is", async () => {
    const folder = newFolder();
    const stop = new AbortController();
    const { code, notes, progress } = await cli(
      ["generate", join(folder, "a.strandbook"), "--strands", "100000", "--seed", "5"],
      { stop, onProgress: () => stop.abort() },
    );
    expect([code, notes]).toEqual([1, "Stopped. Nothing was changed.\n"]);
    expect(progress[0]).toMatch(/^strands: \d+ of 100000$/);
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe("the truth of a generated plant", () => {
  it("is printed as JSON, and what it says is what the program answers", async () => {
    const file = join(newFolder(), "a.strandbook");
    const { truth } = (await cli(["generate", file, "--strands", "600", "--seed", "5", "--json"])).json<{
      truth: Truth;
    }>();
    expect([truth.strands, truth.seed]).toEqual([600, 5]);
    for (const line of truth.lines) {
      const traced = (await cli(["trace", file, line.from, "--json"])).json<TraceAnswer>();
      expect(traced.hops).toHaveLength(line.hops);
      expect(traced.length_m).toBeCloseTo(line.length_m, 2);
    }
    for (const { tag, strands } of truth.buildings) {
      expect((await cli(["feeds", file, tag, "--json"])).json<FeedsAnswer>().total).toBe(strands);
    }
  });
  it("is kept in a file of its own that is never one that is there", async () => {
    const folder = newFolder();
    const [file, kept] = [join(folder, "a.strandbook"), join(folder, "truth.json")];
    const made = await cli(["generate", file, "--strands", "300", "--seed", "5", "--truth", kept]);
    expect(made.code).toBe(0);
    const truth = JSON.parse(readFileSync(kept, "utf8")) as Truth;
    expect(made.out).toContain(`buildings       ${truth.buildings.length}\n`);
    const again = await cli([
      "generate",
      join(folder, "b.strandbook"),
      "--strands",
      "300",
      "--seed",
      "5",
      "--truth",
      kept,
    ]);
    expect([again.code, again.notes]).toEqual([
      1,
      "truth.json exists already. Choose another name, or move it away first.\n",
    ]);
    expect(readdirSync(folder).sort()).toEqual(["a.strandbook", "truth.json"]);
  });
});

describe("a place where nothing can be made", () => {
  it("is named, not a file in it", async () => {
    const file = await newFile();
    const nowhere = join(newFolder(), "none", "deeper");
    expect((await cli(["export", file, nowhere])).notes).toBe(`There is no folder ${join(nowhere, "..")}.\n`);
    if (process.platform !== "linux") return;
    // The process file system of Linux takes no files.
    expect((await cli(["export", file, "/proc/x"])).notes).toBe("x can't be made in /proc.\n");
    expect((await cli(["new", "/proc/x.strandbook"])).notes).toBe("x.strandbook can't be made in /proc.\n");
  });
});

describe("a lock that another machine left", () => {
  it("stops a write with the way out, which is to take it over", async () => {
    const file = await withBuildings("LIB");
    const lock = new Connection(lockPath(file), { create: true });
    lock.run(
      "CREATE TABLE holder (user TEXT NOT NULL, machine TEXT NOT NULL, pid INTEGER NOT NULL, since TEXT NOT NULL) STRICT",
    );
    lock.run("INSERT INTO holder VALUES ('Gone Person', 'far-machine', 4321, '2031-04-05T06:07:08.000Z')");
    lock.close();
    const stopped = await cli(["undo", file]);
    expect(stopped.code).toBe(1);
    expect(stopped.notes).toContain("Gone Person on far-machine has had it open for writing");
    expect(stopped.notes).toContain("--take-over");
    expect((await cli(["undo", file, "--take-over"])).code).toBe(0);
    expect((await cli(["list", file, "building", "--json"])).json()).toEqual([]);
  });
});

describe("strandbook export and import", () => {
  it("carry a plant over, and the second time change nothing", async () => {
    const folder = newFolder();
    const [from, to, files] = [join(folder, "a.strandbook"), join(folder, "b.strandbook"), join(folder, "files")];
    await cli(["generate", from, "--strands", "300", "--seed", "5"]);
    await cli(["new", to]);
    expect((await cli(["export", from, files])).out).toContain("strand.csv");
    const rehearsed = await cli(["import", to, files, "--rehearse", "--json"]);
    expect(rehearsed.code).toBe(0);
    expect((await cli(["list", to, "strand", "--json"])).json()).toEqual([]);
    const imported = await cli(["import", to, files, "--json", "--author", "A Clerk"]);
    expect(imported.code).toBe(0);
    expect((await cli(["list", to, "strand", "--json"])).json()).toHaveLength(300);
    const again = await cli(["import", to, files]);
    expect(again.out).toContain("0 new, 0 changed");
    expect((await cli(["history", to, "--json"])).json()).toMatchObject([{ id: 1, author: "A Clerk" }]);
  });
  it("end with 1 when rows can't be read, naming file, row, field and reason", async () => {
    const folder = newFolder();
    const [file, files] = [join(folder, "a.strandbook"), join(folder, "files")];
    await cli(["generate", file, "--strands", "300", "--seed", "5"]);
    await cli(["export", file, files]);
    const buildings = join(files, "building.csv");
    const [head = "", first = "", ...rest] = readFileSync(buildings, "utf8").split("\r\n");
    const cells = first.split(",");
    cells[head.split(",").indexOf("longitude")] = "far east";
    writeFileSync(buildings, [head, cells.join(","), ...rest].join("\r\n"));
    const rehearsed = await cli(["import", file, files, "--rehearse"]);
    expect(rehearsed.code).toBe(1);
    expect(rehearsed.out).toContain("1 refused");
    const refused = await cli(["import", file, files]);
    expect(refused.code).toBe(1);
    expect(refused.notes).toMatch(/building\.csv +2 .*longitude.*far east/);
    expect((await cli(["history", file, "--json"])).json()).toHaveLength(1);
    expect((await cli(["import", file, files, "--leave-out-refused"])).code).toBe(0);
  });
});

describe("strandbook backup and status", () => {
  it("say where the backup is and that there is one", async () => {
    const file = await withBuildings("LIB");
    const { path } = (await cli(["backup", file, "--json"])).json<{ path: string }>();
    expect(existsSync(path)).toBe(true);
    const { out } = await cli(["status", file]);
    expect(out).toContain("Test Campus");
    expect(out).toMatch(/last backup {2}\d{4}-/);
    expect(out).toMatch(/building +1\n/);
  });
});

describe("strandbook find, trace, feeds and check", () => {
  it("find by part of a tag, and end with 1 when nothing is called so", async () => {
    const file = await withBuildings("LIB", "ENG");
    expect((await cli(["find", file, "IB", "--json"])).json()).toMatchObject({ hits: [{ ref: { tag: "LIB" } }] });
    expect((await cli(["find", file, "IB"])).out).toMatch(/LIB +building +Building LIB/);
    expect((await cli(["find", file, "nowhere"])).code).toBe(1);
  });
  it("trace with ends, hops and lengths, for programs and for people", async () => {
    const file = join(newFolder(), "a.strandbook");
    await cli(["generate", file, "--strands", "300", "--seed", "5"]);
    const [strand] = (await cli(["list", file, "strand", "--json"])).json<{ address: string }[]>();
    const traced = await cli(["trace", file, strand?.address ?? "", "--json"]);
    expect(traced.code).toBe(0);
    const answer = traced.json<{ from: object; to: object; length_m: number; hops: Record<string, unknown>[] }>();
    expect(answer.length_m).toBeGreaterThan(0);
    expect(answer.hops.length).toBeGreaterThan(2);
    for (const hop of answer.hops) {
      expect(hop).toMatchObject({ kind: expect.any(String), record: { tag: expect.any(String) } });
      expect(hop).toHaveProperty("place");
      expect(hop).toHaveProperty("length_m");
    }
    const sum = answer.hops.reduce((metres, hop) => metres + Number(hop.length_m ?? 0), 0);
    expect(answer.length_m).toBeCloseTo(sum, 6);
    const { out } = await cli(["trace", file, strand?.address ?? ""]);
    expect(out).toContain("Caution: ");
    expect(out).not.toContain("`");
    expect((await cli(["trace", file, "F-404:1"])).code).toBe(1);
  });
  it("tell what feeds a building", async () => {
    const file = join(newFolder(), "a.strandbook");
    await cli(["generate", file, "--strands", "300", "--seed", "5"]);
    const fed = (await cli(["feeds", file, "B0001", "--json"])).json<{ total: number; cables: unknown[] }>();
    expect(fed.cables.length).toBeGreaterThan(0);
    const { code, out } = await cli(["feeds", file, "B0001"]);
    expect(code).toBe(0);
    expect(out).toMatch(/cable +from +enters at +strands/);
    expect((await cli(["feeds", file, "NOWHERE"])).code).toBe(1);
  });
  it("check ends with 1 when something that can't be is on record, and says what", async () => {
    const file = await newFile();
    expect((await cli(["check", file])).code).toBe(0);
    const run = (name: string, input: object) => cli(["run", file, name, "--input", JSON.stringify(input)]);
    await run("record.add", { kind: "cable", values: { tag: "F-1" } });
    await run("record.add", { kind: "strand", values: { cable_id: "F-1", number: 1 } });
    await run("record.add", { kind: "section", values: { strand_id: "F-1:1", ordinal: 1 } });
    for (const tag of ["C-1", "C-2"]) {
      await run("record.add", { kind: "circuit", values: { tag } });
      await run("record.add", { kind: "assignment", values: { circuit_id: tag, section_id: 1, ordinal: 1 } });
    }
    const checked = await cli(["check", file, "--json"]);
    const { findings } = checked.json<{ findings: { rule: string; severity: string; records: unknown[] }[] }>();
    expect(findings.some(({ rule, severity }) => rule === "truth.assigned_twice" && severity === "error")).toBe(true);
    for (const finding of findings) expect(finding.records.length).toBeGreaterThan(0);
    expect(checked.code).toBe(1);
    expect((await cli(["check", file])).out).toContain("The report fails");
    const csv = await cli(["check", file, "--format", "csv"]);
    expect([csv.code, csv.out.startsWith("standing,severity,rule,")]).toEqual([1, true]);
    expect((await cli(["check", file, "--format", "html"])).out).toContain("<!doctype html>");
    expect((await cli(["check", file, "--format", "pdf"])).code).toBe(2);
    const some = await cli(["check", file, "--rule", "truth.assigned_twice", "--json"]);
    expect(some.json<{ findings: { rule: string }[] }>().findings.map(({ rule }) => rule)).toEqual([
      "truth.assigned_twice",
    ]);
  });
});
