import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { KIND_NAMES, kindOf } from "../../core/model/dictionary.ts";
import { referencePage } from "../../core/model/reference.ts";

describe("the reference page", () => {
  const page = referencePage();

  it("is the one the dictionary makes today", () => {
    expect(readFileSync(new URL("../../samples/reference.md", import.meta.url), "utf8")).toBe(page);
  });

  it("tells every kind and every field", () => {
    const untold = KIND_NAMES.flatMap((name) =>
      [name, ...Object.keys(kindOf(name).fields)].filter((word) => !page.includes(`\`${word}\``)),
    );
    expect(untold).toEqual([]);
  });
});
