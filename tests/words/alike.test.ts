/**
 * Nothing the program does hangs on the words it says: every operation answers in another language what it answers in
 * English, said otherwise. Whatever compared, sorted, cut or looked up words would differ here.
 */
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { inputOf } from "../operations/example.ts";
import { EXAMPLES } from "../operations/examples.ts";
import { type Ground, newGround } from "../operations/ground.ts";
import { inPlain, nobodys, spokenIn } from "./spoken.ts";
import type { Came, Task } from "./spoken-child.ts";

let ground: Ground;
let english: readonly Came[];
let nobody: readonly Came[];

beforeAll(async () => {
  ground = await newGround();
  const tasks = () =>
    EXAMPLES.flatMap(({ name, input, refused }): Task[] =>
      [input, refused.input].map((one) => {
        const { file, folders } = ground.fresh();
        return { file, name, input: inputOf(one, folders) };
      }),
    );
  english = await spokenIn(null, tasks());
  nobody = await spokenIn(nobodys({ bare: true }), tasks());
});
afterAll(() => ground?.end());

/** A rehearsal's digest is of what was shown; whoever applies it saw it in one language. */
const plain = (came: Came | undefined, differs: readonly string[] = []): unknown =>
  ground.comparable(JSON.parse(inPlain(JSON.stringify(came))), [...differs, "digest"]);

describe.each(EXAMPLES.map((example, at) => ({ ...example, at })))("$name", ({ at, differs }) => {
  it("answers alike", () => {
    expect(plain(nobody[at * 2], differs)).toEqual(plain(english[at * 2], differs));
  });
  it("refuses alike", () => {
    expect(plain(nobody[at * 2 + 1])).toEqual(plain(english[at * 2 + 1]));
  });
});
