/** Where along a cable a verdict is shown. */
import { describe, expect, it } from "vitest";
import type { FitnessVerdict, RuleName, Verdict } from "../../core/fitness/answer.ts";
import type { KindName } from "../../core/model/dictionary.ts";
import type { CableAnswer } from "../../core/trace/cable-answer.ts";
import { matrixOf } from "../../renderer/views/fitness/where.ts";

const ref = (kind: KindName, id: number, tag: string) => ({ kind, id, tag });
const HALL = ref("building", 1, "HALL");
const stop = (n: number, space: string, building: typeof HALL | null) => ({
  record: ref("stop", n, `F-1@${n}`),
  place: { space: ref("space", n, space), space_kind: null, building, building_name: null },
});
const leg = (pathway: string, id: number) => ({
  pathway: ref("pathway", id, pathway),
  conduit: ref("conduit", id, `${pathway}/1`),
});
const SHEET = {
  cable: ref("cable", 1, "F-1"),
  stops: [stop(1, "HALL/A", HALL), stop(2, "MH-1", null), stop(3, "MH-2", null)],
  legs: [leg("EN-1", 1), leg("DB-2", 2)],
} as unknown as CableAnswer;

const verdict = (rule: RuleName, value: Verdict, ...records: ReturnType<typeof ref>[]): FitnessVerdict => ({
  rule,
  title: rule,
  verdict: value,
  records,
  fact: "",
  rule_words: "",
  source: "",
  remedy: null,
  caution: "",
  figures: [],
  lacks: [],
});

/** The columns in which a rule is told, with the verdict of each. */
function told(rule: RuleName, ...verdicts: FitnessVerdict[]): Record<string, Verdict> {
  const { spots, cell } = matrixOf(verdicts, SHEET);
  return Object.fromEntries(
    spots.flatMap((spot) => {
      const found = cell(rule, spot);
      return found ? [[spot.words, found.verdict]] : [];
    }),
  );
}

const firstLeg = ref("leg", 7, "leg F-1@1 to F-1@2 in EN-1/1");
const sheet = ref("cable_type", 1, "LT");

describe("a verdict along a cable", () => {
  it("stands on the leg it names, and there alone", () => {
    expect(told("sun", verdict("sun", "fits", firstLeg, ref("pathway", 1, "EN-1"), sheet))).toEqual({
      "EN-1/1": "fits",
    });
  });
  it("stands at the stop it names, not at every place of the building", () => {
    expect(told("metal", verdict("metal", "does_not", ref("stop", 1, "F-1@1"), HALL))).toEqual({
      "HALL/A": "does_not",
    });
  });
  it("stands on every leg through a way, and only on that of a pipe", () => {
    const ways = [ref("pathway", 1, "EN-1"), ref("pathway", 2, "DB-2")];
    expect(told("depth", verdict("depth", "cannot_tell", ...ways))).toEqual({
      "EN-1/1": "cannot_tell",
      "DB-2/1": "cannot_tell",
    });
    expect(told("fill", verdict("fill", "fits", ref("conduit", 2, "DB-2/1"), ref("cable", 1, "F-1")))).toEqual({
      "DB-2/1": "fits",
    });
  });
  it("stands at the room of a panel", () => {
    expect(told("buffer", verdict("buffer", "fits", ref("panel", 4, "HALL/A/P1")))).toEqual({ "HALL/A": "fits" });
  });
  it("stands with the whole cable where it names no place of it", () => {
    expect(told("warranty", verdict("warranty", "caution", sheet))).toEqual({ "the cable": "caution" });
  });
  it("gives way to a worse one of the same rule", () => {
    const at = ref("stop", 1, "F-1@1");
    expect(told("metal", verdict("metal", "fits", at), verdict("metal", "does_not", at))).toEqual({
      "HALL/A": "does_not",
    });
    expect(told("metal", verdict("metal", "caution", at), verdict("metal", "cannot_tell", at))).toEqual({
      "HALL/A": "caution",
    });
  });
  it("is the worst of a place where no other rule found worse", () => {
    const at = ref("stop", 1, "F-1@1");
    const { worstAt } = matrixOf([verdict("coil", "fits", at), verdict("metal", "caution", at)], SHEET);
    expect(worstAt("stop 0")?.rule).toBe("metal");
    expect(worstAt("stop 1")).toBeUndefined();
  });
  it("leaves out places of which nothing is told", () => {
    const { spots } = matrixOf([verdict("sun", "fits", firstLeg)], SHEET);
    expect(spots.map(({ words }) => words)).toEqual(["EN-1/1"]);
  });
});
