/**
 * Rules of fitness: what the answer about one cable calls unfit, over every cable that is there. All are worked out of one
 * reading of the plant; one cable, pipe, way or firestop is one finding with a count.
 */

import { readFacts } from "../../fitness/facts.ts";
import { TERMINATIONS, type Terminations } from "../../fitness/held.ts";
import { judge } from "../../fitness/judge.ts";
import { type About, type Judgement, judgement, type RuleName } from "../../fitness/judgement.ts";
import { fitnessLimits } from "../../fitness/limits.ts";
import { pipes } from "../../fitness/pipes.ts";
import { CAUTION as LOCAL_CODE, WORDS, wordsOf } from "../../fitness/words.ts";
import type { KindName } from "../../model/dictionary.ts";
import { counted, plural } from "../../words/counted.ts";
import { listed } from "../../words/phrase.ts";
import { say } from "../../words/say.ts";
import type { Severity } from "../finding.ts";
import { CAUTION, type Case, defineRule, type Fact, type Ground, type Names, quote, type Rule } from "../rule.ts";

interface Unfit {
  readonly cable_id: number | null;
  readonly one: Judgement;
}

/** Cables judged between two breaths. */
const PAGE = 200;

/** Everything unfit, by rule, and ways whose point of entrance would be needed. */
async function unfit(ground: Ground): Promise<ReadonlyMap<string, readonly Unfit[]>> {
  return ground.once("fitness", async () => {
    const { reader, today } = ground;
    const facts = await readFacts(reader, null);
    const limits = await fitnessLimits(reader);
    const terminations = Map.groupBy(await reader.rows<Terminations>(TERMINATIONS(true)), ({ cable_id }) => cable_id);
    const found: Unfit[] = [];
    for (const [n, cable] of facts.cables.entries()) {
      if (n % PAGE === PAGE - 1) await ground.breathe();
      for (const one of judge(facts, cable, limits, { terminations: terminations.get(cable.id) ?? [], today })) {
        if (one.verdict === "does_not" || lacksEntrance(one).length > 0 || lacksMetal(one) || lacksCase(one))
          found.push({ cable_id: cable.id, one });
      }
    }
    for (const one of pipes(facts, facts.conduits.keys(), limits)) {
      if (one.verdict === "does_not") found.push({ cable_id: null, one });
    }
    return Map.groupBy(found, ({ one }) => (one.verdict === "does_not" ? one.rule : `${one.rule} unknown`));
  });
}

const lacksEntrance = (one: Judgement): About[] =>
  one.rule === "unlisted" ? one.lacks.flatMap(({ of }) => (of[0] === "pathway" ? [of] : [])) : [];

const lacksMetal = (one: Judgement): boolean => one.rule === "metal" && one.verdict === "cannot_tell";

const lacksCase = (one: Judgement): boolean => one.rule === "armour_at_case" && one.verdict === "cannot_tell";

const keyOf = ([kind, id]: About): string => `${kind} ${id}`;
const unique = (abouts: readonly About[]): About[] => [...new Map(abouts.map((one) => [keyOf(one), one])).values()];

/** One case for each thing: the cable, or the record of a kind that the judgements name. */
function cases(found: readonly Unfit[], by: KindName): Case[] {
  const holderOf = ({ cable_id, one }: Unfit): About | undefined =>
    by === "cable" && cable_id !== null ? ["cable", cable_id] : one.records.find(([kind]) => kind === by);
  const things = Map.groupBy(
    found.flatMap((one) => {
      const holder = holderOf(one);
      return holder ? [{ ...one, holder }] : [];
    }),
    ({ holder }) => keyOf(holder),
  );
  return [...things.values()].map((same): Case => {
    const holder = (same[0] as { holder: About }).holder;
    const cables = same.flatMap(({ cable_id }): About[] => (cable_id === null ? [] : [["cable", cable_id]]));
    return {
      records: unique([holder, ...same.flatMap(({ one }) => one.records), ...cables]),
      key: [holder],
      // In the order of the cable, or of the tags of the cables in a pipe.
      inOrder: true,
      count: by === "cable" ? same.length : 1,
      facts: { found: same.map(({ one }) => one.facts as Fact) },
    };
  });
}

/** How the further places of one cause are told. */
function further(name: RuleName, facts: readonly { readonly [name: string]: Fact }[], by: KindName): string {
  if (facts.length < 2) return "";
  if (name !== "metal") {
    return by === "cable"
      ? say` So it is at ${counted(facts.length - 1, "further place")}.`
      : say` So it is for ${counted(facts.length, "cable")}.`;
  }
  const states = Map.groupBy(facts, ({ state }) => state);
  const words = [
    [states.get("unbonded")?.length, "unbonded"],
    [states.get("not_on_record")?.length, say`without a bond on record`],
  ].flatMap(([n, state]) => (n ? [say`${state} in ${counted(n as number, "building")}`] : []));
  return say` In all it is ${listed(words)}.`;
}

function fitnessRule(name: RuleName, severity: Severity, by: KindName = "cable"): Rule {
  const { title, rule, source } = WORDS[name];
  return defineRule({
    name: `fitness.${name}`,
    family: "fitness",
    severity,
    title,
    why: rule,
    source,
    find: async (ground) => cases((await unfit(ground)).get(name) ?? [], by),
    say: (one: Case, tag: Names) => {
      const facts = one.facts.found as readonly Judgement["facts"][];
      const words = wordsOf(judgement(name, "does_not", one.records, { facts: facts[0] ?? {} }), tag);
      const cable = by === "cable" ? one.records[0] : undefined;
      return {
        sentence: `${cable ? `${quote(tag, cable)}: ` : ""}${words.fact}${further(name, facts as never, by)}`,
        repair: words.remedy,
        caution: name === "metal" || name === "armour_at_case" ? CAUTION.metal : LOCAL_CODE,
      };
    },
  });
}

export const metalUnbonded = fitnessRule("metal", "hazard");
export const pipeTooSmall = fitnessRule("bore", "error", "conduit");
export const indoorOutdoors = fitnessRule("outdoors", "warning");
export const sunOnSheath = fitnessRule("sun", "warning");
export const waterInCable = fitnessRule("water", "warning");
export const rodentsAtCable = fitnessRule("rodents", "warning");
export const unlistedIndoors = fitnessRule("unlisted", "warning");
export const fireMarking = fitnessRule("fire", "warning");
export const armourAtCase = fitnessRule("armour_at_case", "warning");
export const connectorOnBare = fitnessRule("buffer", "warning");
export const coilTooTight = fitnessRule("coil", "warning");
export const cablesMayJam = fitnessRule("jam", "warning", "conduit");
export const tooShallow = fitnessRule("depth", "warning", "pathway");
export const deadCableIndoors = fitnessRule("out_of_use", "warning");
export const firestopOlder = fitnessRule("firestop", "warning", "firestop");
export const pipeFull = fitnessRule("fill", "advice", "conduit");
export const pullTooHard = fitnessRule("tension", "advice");

export const metalUnknown = defineRule({
  name: "fitness.metal_unknown",
  family: "fitness",
  severity: "gap",
  title: say`Metal in the cable not on record`,
  why: say`Nobody can tell whether a cable that comes into a building has to be bonded there, nor whether it is safe to touch.`,
  source: WORDS.metal.source,
  async find(ground) {
    const found = (await unfit(ground)).get("metal unknown") ?? [];
    // One data sheet is one cause; a cable without one is its own.
    const sheets = Map.groupBy(found, ({ one }) => keyOf(one.records[0] as About));
    return [...sheets.values()].map((same): Case => {
      const sheet = same[0]?.one.records[0] as About;
      const cables = same.flatMap(({ cable_id }): About[] => (cable_id === null ? [] : [["cable", cable_id]]));
      return { records: unique([sheet, ...cables]), key: [sheet], facts: { cables: cables.length } };
    });
  },
  say: ({ records: [sheet], facts }, tag) => ({
    sentence:
      sheet?.[0] === "cable"
        ? say`${quote(tag, sheet)} comes into a building, and whether it has metal is not on record.`
        : plural(
            facts.cables as number,
            "{0} cable of {1} comes into buildings, and whether it has metal is not on record.",
            "{0} cables of {1} come into buildings, and whether it has metal is not on record.",
            quote(tag, sheet),
          ),
    repair: say`Record its armour and other metal on the data sheet, or on the cable.`,
    caution: CAUTION.metal,
  }),
});

export const armourUnknown = defineRule({
  name: "fitness.armour_unknown",
  family: "fitness",
  severity: "gap",
  title: say`Armour cut, and no case on record`,
  why: say`Nobody can tell whether metal armour is carried through or bonded where it is cut, nor whether it is safe to touch.`,
  source: WORDS.armour_at_case.source,
  async find(ground) {
    return cases((await unfit(ground)).get("armour_at_case unknown") ?? [], "cable");
  },
  say: ({ records, count }, tag) => {
    const [cable, stop] = records as readonly [About, About];
    const more = (count ?? 1) > 1 ? say` So it is at ${counted((count ?? 1) - 1, "further place")}.` : "";
    return {
      sentence: say`${quote(tag, cable)}: The armour is cut at ${quote(tag, stop)}; which case it enters there is not on record, so whether it is carried through or bonded can't be told.${more}`,
      repair: say`Record the case the cable enters there, and what was done with the armour.`,
      caution: CAUTION.metal,
    };
  },
});

export const entranceUnknown = defineRule({
  name: "fitness.entrance_unknown",
  family: "fitness",
  severity: "gap",
  title: say`Point of entrance not on record`,
  why: say`Metres indoors count from where the cable comes through the outer wall; without that nobody can tell whether unlisted cable runs too far.`,
  source: WORDS.unlisted.source,
  async find(ground) {
    const found = (await unfit(ground)).get("unlisted unknown") ?? [];
    const ways = Map.groupBy(
      found.flatMap(({ cable_id, one }) => lacksEntrance(one).map((way) => ({ way, cable_id }))),
      ({ way }) => keyOf(way),
    );
    return [...ways.values()].map((same): Case => {
      const way = (same[0] as { way: About }).way;
      const cables = same.flatMap(({ cable_id }): About[] => (cable_id === null ? [] : [["cable", cable_id]]));
      return { records: unique([way, ...cables]), key: [way], facts: { cables: new Set(cables.map(keyOf)).size } };
    });
  },
  say: ({ records: [way], facts }, tag) => ({
    sentence: plural(
      facts.cables as number,
      "{0} cable without a fire marking comes in by {1}, whose point of entrance is not on record.",
      "{0} cables without a fire marking come in by {1}, whose point of entrance is not on record.",
      quote(tag, way),
    ),
    repair: say`Measure where the way comes through the wall, and record it as *enters building at*.`,
    caution: LOCAL_CODE,
  }),
});
