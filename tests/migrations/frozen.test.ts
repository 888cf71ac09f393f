/** Published migrations never change: plant files out there were made by them. */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { statementsOf } from "../../host/sqlite-statements.ts";
import { MIGRATIONS } from "../../migrations/index.ts";

const folder = new URL("../../migrations/", import.meta.url);
const checksums: Record<string, string> = JSON.parse(readFileSync(new URL("checksums.json", folder), "utf8"));
const files = readdirSync(folder).filter((name) => name.endsWith(".sql"));

/** Of the text with plain line ends, which a checkout may have changed. */
const checksum = (text: string): string => createHash("sha256").update(text.replaceAll("\r\n", "\n")).digest("hex");

describe("the migrations", () => {
  it("are the files in the folder, numbered from 1 without a gap", () => {
    expect(files).toEqual(MIGRATIONS.map((migration) => `${migration.name}.sql`));
    expect(MIGRATIONS.map((migration) => migration.version)).toEqual(MIGRATIONS.map((_, index) => index + 1));
  });

  it.each(MIGRATIONS)("$name is as it was published", ({ name, text }) => {
    expect(checksum(text()), `${name} changed: write a further migration instead`).toBe(checksums[name]);
  });

  it("are all in the list of checksums, and nothing else is", () => {
    expect(Object.keys(checksums)).toEqual(MIGRATIONS.map((migration) => migration.name));
  });

  it.each(MIGRATIONS)("$name has a test of its own", ({ name }) => {
    expect(existsSync(new URL(`${name}.test.ts`, import.meta.url))).toBe(true);
  });

  it.each(MIGRATIONS)(
    "$name says nothing of transactions, settings or versions, which are the runner's",
    ({ text }) => {
      const words = /^(begin|commit|rollback|savepoint|release|pragma|vacuum|attach|detach)\b/i;
      expect(statementsOf(text()).filter((statement) => words.test(statement))).toEqual([]);
    },
  );
});
