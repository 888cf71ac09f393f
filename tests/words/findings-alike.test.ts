/**
 * Every rule finds in another language what it finds in English, and holds it for the same: a finding that was accepted
 * or signed in one language stands in the other.
 */
import { beforeAll, describe, expect, it } from "vitest";
import { campus, TODAY } from "../check/campus.ts";
import { FIXTURES } from "../check/fixtures/all.ts";
import { inPlain, nobodys, spokenIn } from "./spoken.ts";
import type { Came, Task } from "./spoken-child.ts";

let english: readonly Came[];
let nobody: readonly Came[];

beforeAll(async () => {
  const tasks: Task[] = [];
  for (const { make } of FIXTURES) {
    const plant = await campus();
    await make(plant);
    await plant.close();
    tasks.push({ file: plant.path, name: "check.run", input: {}, day: TODAY });
  }
  english = await spokenIn(null, tasks);
  nobody = await spokenIn(nobodys({ bare: true }), tasks);
});

describe.each(FIXTURES.map(({ rule, fires }, at) => ({ rule, fires, at })))("$rule: $fires", ({ at, rule }) => {
  it("is found alike", () => {
    expect(JSON.stringify(english[at])).toContain(`"rule":"${rule}"`);
    expect(JSON.parse(inPlain(JSON.stringify(nobody[at])))).toEqual(english[at]);
  });
});
