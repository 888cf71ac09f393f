/** A question as it is said, and as it is shown: a sentence in which each blank stands by its name. */
import { describe, expect, it } from "vitest";
import { asking, type Blank } from "../../renderer/views/view.ts";

const blank = (name: string): Blank => ({ fill: "text", name, hint: name });

describe("a question", () => {
  it("has its blanks where the sentence names them", () => {
    const [of, over] = [blank("of"), blank("over")];
    expect(asking("What feeds {of}, over {over}?", [of, over])).toEqual(["What feeds ", of, ", over ", over, "?"]);
  });
  it("may name them in another order than they are listed in", () => {
    const [of, over] = [blank("of"), blank("over")];
    expect(asking("{over}: was kommt in {of} an?", [of, over])).toEqual([over, ": was kommt in ", of, " an?"]);
  });
  it("names each of its blanks, or is none", () => {
    expect(() => asking("What feeds {of}?", [blank("of"), blank("over")])).toThrow("doesn't name its blank over");
  });
});
