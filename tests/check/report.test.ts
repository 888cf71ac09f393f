import { join } from "node:path";
import Papa from "papaparse";
import { describe, expect, it } from "vitest";
import type { ReportText } from "../../core/operations/subjects/checks.ts";
import { newFolder } from "../support/plant.ts";
import { slip } from "../support/slip.ts";
import { type CheckedPlant, campus, checkedPlant, circuit, give } from "./campus.ts";

/** A plant with a finding of several kinds, one of them named to hurt whoever prints it. */
async function messy(): Promise<CheckedPlant> {
  const plant = await campus();
  await plant.edit("plant", 1, { name: `Campus <script>alert("1")</script> & "sons", inc`, label_due: "access" });
  await plant.edit("tray", "MH-03/CL-1/T1", { capacity: 5 });
  await plant.edit("strand", "F-014:2", { condition: "broken" });
  await plant.edit("stop", "F-014@3", { mark_in: 1090 });
  await circuit(plant, `K<img src=x onerror="x">,"7"`, { state: "reserved" });
  await give(plant, `K<img src=x onerror="x">,"7"`, "F-014:1");
  await circuit(plant, "=HYPERLINK(1)", { state: "reserved", reserved_until: "2026-01-01" });
  return plant;
}

const paper = (plant: CheckedPlant, format: "csv" | "html") => plant.run<ReportText>("check.report", { format });

describe("the report", () => {
  it("is byte for byte the same for the same file on the same day", async () => {
    const plant = await messy();
    const first = [await plant.check(), await paper(plant, "html"), await paper(plant, "csv")];
    await plant.close();
    const again = await checkedPlant(plant.path);
    expect(JSON.stringify([await again.check(), await paper(again, "html"), await paper(again, "csv")])).toBe(
      JSON.stringify(first),
    );
  });

  it("finds the same in the same order in a plant that was exported and imported", async () => {
    const plant = await messy();
    const folder = join(newFolder(), "files");
    await plant.run("exchange.export", { folder });
    const copy = await checkedPlant();
    await copy.run("exchange.import", { folder });
    const told = async (one: CheckedPlant) =>
      (await one.check()).findings.map(({ records, building, ...rest }) => ({
        ...rest,
        records: records.map(({ kind, tag }) => `${kind} ${tag}`),
        building: building?.tag,
      }));
    expect(await told(copy)).toEqual(await told(plant));
  });

  it("puts the worst first and states hash, version and policies", async () => {
    const plant = await messy();
    const report = await plant.check();
    const order = ["hazard", "error", "warning", "gap", "advice"];
    const ranks = report.findings.map(({ severity }) => order.indexOf(severity));
    expect(ranks).toEqual(ranks.toSorted((a, b) => a - b));
    expect(report.content_hash).toMatch(/^[0-9a-f]{64}$/);
    expect(report.rules_version).toMatch(/^\d+\.[0-9a-f]{8}$/);
    expect(report.policies).toEqual({
      "tolerance.length_m": 5,
      "tolerance.length_ratio": 0.02,
      "labels.due_days": 30,
      "tolerance.loss_db": 0.25,
      "measure.changes_days": null,
      "ways.wanted": null,
      "spares.strands": null,
      "slack.keep": null,
      "coils.lost_m": null,
    });
    await plant.add("limit_value", { tag: "slack.keep.pull_box", value: 2 });
    expect((await plant.check()).policies).toMatchObject({ "slack.keep": null, "slack.keep.pull_box": 2 });
    expect(report.sentence).toBe("The record does not agree: 9 findings, 3 errors, 2 warnings, 4 gaps.");
  });

  it("is found anew after a change, and not after an acceptance", async () => {
    const plant = await messy();
    const { content_hash } = await plant.check();
    await plant.run("exception.accept", {
      rule: "truth.tray_over",
      key: "splice tray MH-03/CL-1/T1",
      reason: "Measured.",
    });
    const accepted = await plant.check();
    expect(accepted.content_hash).not.toBe(content_hash);
    expect(accepted.accepted).toBe(1);
    await plant.edit("strand", "F-014:2", { condition: "good" });
    expect((await plant.check()).counts.error).toBe(2);
  });

  it("uses the plant's own numbers and says what it can't tell without them", async () => {
    const plant = await campus();
    await plant.add("measurement", {
      tag: "M-1",
      method: "otdr",
      subject_kind: "port",
      subject_id: "LIB/101/A:01",
      length_m: 340,
    });
    // 333.3 m of glass by the marks; beyond it the cord of 3 m to the switch.
    expect(await plant.found("truth.length_differs")).toEqual([]);
    await plant.add("limit_value", { tag: "tolerance.length_m", value: 1, reason: "short ways" });
    await plant.add("limit_value", { tag: "tolerance.length_ratio", value: 0.001, reason: "short ways" });
    expect(await plant.found("truth.length_differs")).toMatchObject([
      { facts: { measured_m: 340, recorded_m: 336.3 } },
    ]);
    slip(plant, "tolerance.length_m", -1);
    // What was checked of one revision is kept: the next one is looked at anew.
    await plant.edit("limit_value", "tolerance.length_m", { notes: "from elsewhere" });
    const report = await plant.check();
    expect(report.findings).toEqual([]);
    expect(report.rules.find(({ name }) => name === "truth.length_differs")?.could_not_run).toBe(
      "the policies tolerance.length_m and tolerance.length_ratio must be numbers from 0",
    );
  });

  it("answers a part of itself, with the part's counts", async () => {
    const plant = await messy();
    const whole = await plant.check();
    const labels = await plant.check({ families: ["labels"] });
    expect(labels.findings.every(({ family }) => family === "labels")).toBe(true);
    expect(labels).toMatchObject({ passes: true, counts: { error: 0, gap: 4 }, part: "the family labels" });
    // A part never speaks for the whole.
    expect(whole.part).toBe(null);
    expect(labels.sentence).toMatch(/^Only the family labels: .* This says nothing of the rest\.$/);
    for (const format of ["csv", "html"]) {
      const { text } = await plant.run<{ text: string }>("check.report", { format, families: ["labels"] });
      expect(text).toContain("the family labels");
      expect(text).not.toContain("<dt>Verdict</dt>");
    }
    const errors = await plant.check({ severities: ["error"], building: "LIB" });
    expect(errors.findings.length).toBe(
      whole.findings.filter(({ severity, building }) => severity === "error" && building?.tag === "LIB").length,
    );
    const id = await plant.id("select id from cable where tag = 'F-014'");
    const own = await plant.check({ record: { kind: "cable", id } });
    expect(own.findings.map(({ rule }) => rule)).toEqual(["truth.marks_backwards"]);
  });

  it("stops when it is told to", async () => {
    const plant = await messy();
    let heard = 0;
    const reply = await plant.session.dispatch(
      { name: "check.run", input: {} },
      {
        onProgress: () => {
          heard += 1;
        },
        signal: {
          get aborted() {
            return heard > 3;
          },
        },
      },
    );
    expect(reply).toMatchObject({ ok: false, error: { code: "stopped" } });
    expect((await plant.check()).findings.length).toBeGreaterThan(0);
  });

  it("shows where each finding comes from", async () => {
    const plant = await messy();
    await plant.add("visit", { tag: "V-1", made_on: "2026-03-04", space_id: "SCI/B01", extent: "part" });
    await plant.edit("stop", "F-014@3", { basis: "told" });
    await plant.edit("cable", "F-014", { basis: "drawn" });
    expect(await plant.found("truth.marks_backwards")).toMatchObject([
      { basis: ["drawn", "told"], last_visit: "2026-03-04", building: { tag: "SCI" } },
    ]);
  });
});

describe("the report on paper", () => {
  it("is a table that RFC 4180 readers take, with hostile names as they are", async () => {
    const plant = await messy();
    const { text, file, media_type } = await paper(plant, "csv");
    expect([file, media_type]).toEqual(["consistency-2026-05-01.csv", "text/csv;charset=utf-8"]);
    const { data, errors } = Papa.parse<string[]>(text, { skipEmptyLines: true });
    expect(errors).toEqual([]);
    expect(new Set(data.map((row) => row.length)).size).toBe(1);
    const report = await plant.check();
    expect(data.length).toBeGreaterThan(report.findings.length);
    const twice = data.find(([, , rule]) => rule === "truth.assigned_twice");
    expect(twice?.[8]).toBe(`F-014:1; K-1; K<img src=x onerror="x">,"7"`);
    expect(text).toContain(report.content_hash);
    expect(text.split("\r\n").length).toBe(data.length + 1);
  });

  it("shields what a spreadsheet would run", async () => {
    const plant = await messy();
    const { data } = Papa.parse<string[]>((await paper(plant, "csv")).text);
    const past = data.find(([, , rule]) => rule === "truth.reservation_past");
    expect(past?.[8]).toBe("'=HYPERLINK(1)");
    expect(data.flat().filter((cell) => /^[=+@]/.test(cell))).toEqual([]);
  });

  it("is a page of its own in which names are text", async () => {
    const plant = await messy();
    const { text } = await paper(plant, "html");
    expect(text).not.toMatch(/<script|<img|onerror="x"/);
    expect(text).toContain("&lt;script&gt;alert(&quot;1&quot;)&lt;/script&gt;");
    expect(text).toContain("K&lt;img src=x onerror=&quot;x&quot;&gt;");
    expect(text).not.toMatch(/(src|href)=(?!x)|url\(|@import/);
    expect(text).toContain((await plant.check()).content_hash);
  });

  it("is over the same content before and after it is signed, until something changes", async () => {
    const plant = await messy();
    const before = (await plant.check()).content_hash;
    await plant.run("sign_off.make", { by: "An Auditor" });
    expect((await plant.check()).content_hash).toBe(before);
    await plant.run("sign_off.make", { by: "Another Auditor" });
    expect((await plant.check()).content_hash).toBe(before);
    await plant.edit("cable", "F-021", { name: "other" });
    expect((await plant.check()).content_hash).not.toBe(before);
  });

  it("opens with what is new since the last sign-off", async () => {
    const plant = await messy();
    await plant.run("sign_off.make", { by: "An Auditor" });
    await plant.edit("cable", "F-021", { life_from: "2020-05-01", life_until: "2019-05-01" });
    const { text: html } = await paper(plant, "html");
    const at = (part: string) => html.indexOf(part);
    expect(at("New since 1 May 2026")).toBeGreaterThan(0);
    expect(at("truth.dates_backwards")).toBeGreaterThan(at("New since 1 May 2026"));
    expect(at("truth.dates_backwards")).toBeLessThan(at("Known at the last sign-off"));
    const { data } = Papa.parse<string[]>((await paper(plant, "csv")).text);
    expect(data[1]?.slice(0, 3)).toEqual(["new", "error", "truth.dates_backwards"]);
  });
});
