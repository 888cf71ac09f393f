import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import vm from "node:vm";
import { build } from "vite";
import { describe, expect, it } from "vitest";
import { LAYERS, LONG_FILES } from "./layers.ts";
import { cycles, importProblems, packageListProblems, sizeProblems, usageProblems } from "./rules.ts";
import { readTree } from "./source.ts";
import { bareWords } from "./words.ts";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const PLACES = [
  "core",
  "host",
  "electron",
  "renderer",
  "migrations",
  "samples",
  "setup",
  "vite.config.ts",
  "vitest.config.ts",
];
const sources = readTree(ROOT, PLACES);
const everything = readTree(ROOT, [...PLACES, "tests", "bench"]).filter(
  (source) => !source.path.startsWith("tests/architecture/fixture/"),
);

describe("the house as it stands", () => {
  it("has been read", () => {
    expect(sources.length).toBeGreaterThan(100);
    expect(sources.find((source) => source.path === "core/operations/dispatch.ts")?.imports.length).toBeGreaterThan(5);
  });
  it("imports one way only", () => {
    expect(importProblems(sources)).toEqual([]);
  });
  it("grants only layers that exist", () => {
    const names = new Set(LAYERS.map((layer) => layer.name));
    expect(LAYERS.flatMap((layer) => layer.uses).filter((name) => !names.has(name))).toEqual([]);
  });
  it("has no files that import each other in a ring", () => {
    expect(cycles(sources)).toEqual([]);
  });
  it("classifies every package it has", () => {
    expect(packageListProblems(JSON.parse(readFileSync(`${ROOT}/package.json`, "utf8")))).toEqual([]);
  });
  it("keeps files small", () => {
    expect(sizeProblems(everything)).toEqual([]);
  });
  it("excuses no file that has become short again", () => {
    const long = new Set(everything.filter((source) => source.lines > 400).map((source) => source.path));
    expect(Object.keys(LONG_FILES).filter((path) => !long.has(path))).toEqual([]);
  });
  it("reads no clock in core, writes only through the gateway, executes what it builds, copies no files", () => {
    expect(usageProblems(sources)).toEqual([]);
  });
  it("shows no words in the window that no translator would see", () => {
    expect(bareWords(sources)).toEqual([]);
  });
});

describe("a house built badly on purpose", () => {
  const bad = readTree(fileURLToPath(new URL("fixture", import.meta.url)), [
    "core",
    "host",
    "electron",
    "renderer",
    "attic",
  ]);

  it("is caught at every forbidden import", () => {
    expect(importProblems(bad).map((problem) => problem.split(":")[0])).toEqual([
      "attic/lost.ts belongs to no layer; give it one in tests/architecture/layers.ts",
      "core/model/reaches-up.ts (model) must not import core/store/gateway.ts (store)",
      "core/model/reaches-up.ts (model) must not import core/trace/walks.ts (trace)",
      "core/model/reaches-up.ts must not import node",
      "core/model/reaches-up.ts must not import kysely",
      "core/trace/walks.ts imports left-pad, which tests/architecture/packages.ts doesn't list",
      "electron/knows-core.ts (electron) must not import core/trace/walks.ts (trace)",
      "host/loopback/opens-files.ts (loopback) must not import host/plant-file.ts (host)",
      "host/plant-file.ts must not import the database driver; only host/sqlite-connection.ts, host/sqlite-errors.ts, host/sqlite-statements.ts know it",
      "renderer/takes-values.ts may import only types from core/trace/walks.ts",
      "renderer/takes-values.ts (renderer) must not import host/plant-file.ts (host)",
    ]);
  });
  it("is caught at its ring", () => {
    expect(cycles(bad)).toEqual([
      "files import each other in a ring: core/store/gateway.ts -> core/store/ring.ts -> core/store/gateway.ts",
    ]);
  });
  it("is caught at its overlong file", () => {
    expect(sizeProblems(bad)).toEqual(["core/trace/long.ts has 402 lines; above 400 it is more than one idea"]);
  });
  it("is caught at words that go past the catalogue", () => {
    expect(bareWords(bad).map((problem) => problem.split(" past ")[0])).toEqual([
      'renderer/bare-words.tsx:3 shows "The cut"',
      'renderer/bare-words.tsx:3 shows "Losing"',
      'renderer/bare-words.tsx:5 shows "Close"',
      'renderer/bare-words.tsx:6 shows "Leave out"',
    ]);
  });
  it("is caught at every wrong use", () => {
    expect(usageProblems(bad)).toEqual([
      "core/trace/misuses.ts:3 takes the writing handle; only the gateway's parts do",
      "core/trace/misuses.ts:6 reads the clock; time comes from the context",
      "core/trace/misuses.ts:7 reads the clock; time comes from the context",
      "core/trace/misuses.ts:8 is random; the same question must get the same answer",
      "core/trace/misuses.ts:9 uses console, which core doesn't have",
      "core/trace/misuses.ts:10 uses setTimeout, which core doesn't have",
      "core/trace/misuses.ts:11 writes with insertInto; only the gateway writes",
      "core/trace/misuses.ts:12 runs a statement; only the gateway writes",
      "core/trace/misuses.ts:13 writes through a reader",
      "core/trace/misuses.ts:14 builds a query and never executes it",
      "core/trace/misuses.ts:15 opens a write transaction; only core/store/gateway.ts does",
      "host/plant-file.ts:5 copies files past the engine; copies of a plant are made by its own backup",
    ]);
  });
});

describe("core by itself", () => {
  it("loads where there is neither Node nor a browser", async () => {
    const built = await build({
      configFile: false,
      logLevel: "error",
      build: {
        write: false,
        minify: false,
        lib: { entry: `${ROOT}/core/operations/list.ts`, formats: ["iife"], name: "core" },
      },
    });
    const [output] = Array.isArray(built) ? built : [built];
    if (!output || !("output" in output)) throw new Error("nothing was built");
    const code = output.output[0].code;
    // A fresh context has the language's own library and nothing else.
    const names = vm.runInNewContext(`${code}; core.OPERATIONS.map((operation) => operation.name)`, {}) as string[];
    expect(names.length).toBeGreaterThan(20);
    expect(new Set(names).size).toBe(names.length);
  });
});
