/** A value is told with its unit wherever two versions of it meet: the field's own, or the one that the record names. */
import { describe, expect, it } from "vitest";
import type { AnswerOf } from "../../core/operations/list.ts";
import { wordsIn } from "../../renderer/grid/showing.ts";
import { refusalOf } from "../store/on-file.ts";
import { compare, parted, run } from "./parted.ts";
import { add, edit } from "./story.ts";

const TAG = "attenuation.g652d.1550";
const value = (figure: number) => edit("limit_value", TAG, { value: figure });
const set = () =>
  parted(async (plant) => {
    await run(plant, add("limit_value", { tag: TAG, value: 0.25, unit: "dB/km" }));
    await run(plant, add("limit_value", { tag: "fill.most", value: 0.4, unit: "ratio" }));
    await run(plant, add("pathway", { tag: "DB-04", kind: "duct_bank", length_m: 12.5 }));
  });

describe("a limit whose record names its unit", () => {
  it("is told with it when two files say something else, and when it was changed since it was read", async () => {
    const { office, field } = await set();
    await run(office, value(0.21));
    await run(field, value(0.22));
    expect((await compare(office, field)).conflicts).toMatchObject([
      { before: "0.25 dB/km", ours: "0.21 dB/km", theirs: "0.22 dB/km" },
    ]);
    const typed = [
      "record.change_many",
      { changes: [{ op: "edit", kind: "limit_value", id: 1, rev: 1, values: { value: 0.3 } }] },
    ];
    const stale = await refusalOf(run(office, typed as [string, object]), "stale");
    expect(stale.message).toContain("value was 0.25 dB/km, is 0.21 dB/km");
  });

  it("is told with it in the history and between two moments, though only the number was changed", async () => {
    const { office } = await set();
    await run(office, value(0.21));
    const told = [{ field: "value", before: "0.25 dB/km", after: "0.21 dB/km" }];
    const { changes } = await office.run<AnswerOf<"history.show">>("history.show", { id: 4 });
    expect(changes).toMatchObject([{ fields: told }]);
    const moments = { from: { change_set: 3 }, to: { change_set: 4 } };
    const compared = await office.run<AnswerOf<"history.compare">>("history.compare", moments);
    expect(compared.changes).toMatchObject([{ fields: told }]);
  });

  it("stands alone where it is a ratio", async () => {
    const { office } = await set();
    await run(office, edit("limit_value", "fill.most", { value: 0.5 }));
    const { changes } = await office.run<AnswerOf<"history.show">>("history.show", { id: 4 });
    expect(changes).toMatchObject([{ fields: [{ before: "0.4", after: "0.5" }] }]);
  });
});

describe("a length that another desk wrote", () => {
  it("is told in the unit that this person reads, and nothing else is turned into it", () => {
    expect(wordsIn("pathway", "length_m", "12.5 m", "m")).toBe("12.5 m");
    // One foot is 0.3048 m exactly (NIST SP 811, appendix B).
    expect(wordsIn("pathway", "length_m", "12.5 m", "ft")).toBe("41 ft");
    expect(wordsIn("pathway", "length_m", null, "ft")).toBeNull();
    expect(wordsIn("pathway", "notes", "12.5 m", "ft")).toBe("12.5 m");
    expect(wordsIn("cable", "fiber_count", "96", "ft")).toBe("96");
  });
});
