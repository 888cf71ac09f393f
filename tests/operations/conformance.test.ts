import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { AnyOperation } from "../../core/operations/dispatch.ts";
import { OPERATIONS } from "../../core/operations/list.ts";
import { inputOf } from "./example.ts";
import { EXAMPLES, PLANT } from "./examples.ts";
import { type Ground, newGround } from "./ground.ts";
import { type Outcome, opened, WAYS } from "./transports.ts";

const operations: readonly AnyOperation[] = OPERATIONS;
let ground: Ground;
beforeAll(async () => {
  ground = await newGround();
});
afterAll(() => ground?.end());

const fresh = () => ground.fresh();
const comparable = (outcome: Outcome, differs?: readonly string[]) => ground.comparable(outcome, differs);

describe("the list of operations", () => {
  it("has an example of each, and examples of nothing else", () => {
    expect(EXAMPLES.map(({ name }) => name).sort()).toEqual(operations.map(({ name }) => name).sort());
  });
  it("describes each in a sentence", () => {
    for (const { name, help } of operations) {
      expect(name).toMatch(/^[a-z]+(_[a-z]+)*\.[a-z]+(_[a-z]+)*$/);
      expect(help).toMatch(/^[A-Z].*\.$/);
    }
  });
});

const ways = Object.keys(WAYS);

describe.each(EXAMPLES)("$name", ({ name, input, refused, differs, check }) => {
  it("answers alike by every way in", async () => {
    const outcomes: Outcome[] = [];
    for (const way of ways) {
      const { file, folders } = fresh();
      const wayIn = await opened(way, file);
      const outcome = await wayIn.call(name, inputOf(input, folders));
      if ("error" in outcome)
        throw new Error(`${way}: ${outcome.error.message} ${JSON.stringify(outcome.error.problems)}`);
      check?.(outcome.value);
      outcomes.push(outcome);
    }
    const [first, ...others] = outcomes.map((outcome) => comparable(outcome, differs));
    for (const [at, other] of others.entries())
      expect({ way: ways[at + 1], ...(other as object) }).toEqual({ way: ways[at + 1], ...(first as object) });
  });

  it("refuses alike by every way in", async () => {
    const outcomes: Outcome[] = [];
    for (const way of ways) {
      const { file, folders } = fresh();
      const wayIn = await opened(way, file);
      outcomes.push(await wayIn.call(name, inputOf(refused.input, folders)));
    }
    for (const outcome of outcomes) expect(outcome).toMatchObject({ error: { code: refused.code } });
    const [first, ...others] = outcomes.map((outcome) => comparable(outcome));
    for (const other of others) expect(other).toEqual(first);
  });

  const operation = operations.find((listed) => listed.name === name);
  if (operation?.effect !== "write") return;
  it("rehearses what it then does, and writes nothing by it", async () => {
    const { file, folders } = fresh();
    const wayIn = await opened("in process", file);
    const asked = inputOf(input, folders);
    const rehearsed = await wayIn.call(name, asked, true);
    const history = await wayIn.call("history.list", { limit: 500 });
    expect(history).toMatchObject({ value: { items: { length: PLANT.length } } });
    // Ids promised to a rehearsal aren't promised twice; another opening begins where the plant stands.
    await wayIn.close();
    const done = await (await opened("in process", file)).call(name, asked);
    if ("error" in rehearsed || "error" in done) throw new Error("refused");
    const { change_set: none, ...planned } = rehearsed.value as { change_set: null };
    const { change_set: made, ...carriedOut } = done.value as { change_set: number };
    expect(none).toBe(null);
    expect(made).toBe(PLANT.length + 1);
    expect(planned).toEqual(carriedOut);
  });
});
