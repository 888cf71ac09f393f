/** A rule of what a cut would take: cables that coils alone would not mend. */
import { cablesOf, reckoningBy, studied } from "../../repair/coils/study.ts";
import { say } from "../../words/say.ts";
import { limitsOf } from "../light-lines.ts";
import { SWITCHES } from "../policies.ts";
import { CAUTION, CannotTell, type Case, defineRule, quote } from "../rule.ts";

const LOST = SWITCHES.coils;

export const notFromCoils = defineRule({
  name: "resilience.not_from_coils",
  family: "resilience",
  severity: "advice",
  title: say`Cable that coils alone would not mend`,
  why: say`Where no coil reaches, a cut takes new cable and a second joint, and the circuits wait for both.`,
  source: say`The plant's policy coils.lost_m, metres that a cut destroys on each side; off where it sets no number. By one splice, over legs proven to slide`,
  async find(ground) {
    const limits = await limitsOf(ground);
    const lost_m = limits.get(LOST)?.value;
    if (lost_m === undefined) return [];
    if (!(lost_m >= 0)) throw new CannotTell(say`the policy ${LOST} must be a number from 0`);
    const ids = await cablesOf(ground.reader, null);
    const cases: Case[] = [];
    let done = 0;
    for await (const { cable, found } of studied(ground.reader, ids, limits, reckoningBy(limits, lost_m))) {
      done += 1;
      if (done % 20 === 0) await ground.breathe();
      // What can't be told is another rule's: a length or a mark that lacks.
      if (typeof found === "string") continue;
      const open = found.parts.flatMap((part) => part.open.stretches).filter(({ state }) => state !== "untold");
      if (open.length === 0) continue;
      const metres = (state: string | null): number =>
        Math.round(
          open
            .filter((one) => state === null || one.state === state)
            .reduce((sum, { from_m, to_m }) => sum + to_m - from_m, 0),
        );
      cases.push({
        records: [["cable", cable.id]],
        count: open.length,
        facts: {
          open_m: metres(null),
          to_prove_m: metres("to_prove"),
          way_m: Math.round(found.parts.reduce((sum, part) => sum + part.open.asked_m, 0)),
          lost_m,
        },
      });
    }
    return cases;
  },
  say: ({ records: [cable], facts }, tag) => ({
    sentence: say`${quote(tag, cable)} can't be mended from coils in ${String(facts.open_m)} m of ${String(facts.way_m)} m of its way${
      facts.to_prove_m === 0 ? "" : say`; in ${String(facts.to_prove_m)} m of them it could, if it is proven to slide`
    }.`,
    repair: say`Ask where coils are missing on it: prove that it slides, or bring the coils named there at its next work.`,
    caution: CAUTION.hole,
  }),
});
