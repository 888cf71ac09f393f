/** What of a cable still shines when it is mended, and what a chosen way takes down of it: that is for somebody to choose. */
import type { PlanDraft } from "../act/context.ts";
import type { MendReckoned } from "../repair/mend.ts";
import { seversAll } from "../repair/plan.ts";
import type { MendPlan } from "../repair/plans.ts";
import { refuse } from "../result.ts";
import { numberRuns } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import { type CutBetween, type GlassUnit, glassUnits } from "./glass-units.ts";
import { listed, type MendFacts } from "./mend-facts.ts";

/** All strands but those that go past the cut over other cable already; null where none does. */
export async function notPast(
  { context: { reader } }: PlanDraft,
  { cable, waiting }: MendReckoned,
): Promise<ReadonlySet<number> | null> {
  const past = waiting?.strands.past;
  if (!past || past.size === 0) return null;
  return new Set((await numbersOf(reader, cable.id)).filter((number) => !past.has(number)));
}

async function numbersOf(reader: Reader, cable_id: number): Promise<number[]> {
  const rows = await reader.rows<{ number: number }>("select number from strand where cable_id = ? order by number", [
    cable_id,
  ]);
  return rows.map(({ number }) => number);
}

/** The dark strands, where others still shine; null where all are dark. */
export async function darkOf(
  { context: { reader, today } }: PlanDraft,
  { cable, dark, waiting }: MendReckoned,
  plan: MendPlan,
  between: CutBetween,
): Promise<MendFacts["dark"]> {
  if (dark === null) return null;
  const past = waiting?.strands.past;
  const all = await numbersOf(reader, cable.id);
  const shining = new Set(all.filter((number) => !dark.has(number) && !past?.has(number)));
  const lit = await glassUnits(reader, cable.id, today, shining, between);
  return {
    numbers: dark,
    whole: [...shining],
    range: numberRuns([...dark].sort((a, b) => a - b)),
    severs: plan.kind !== "new_cable" && seversAll(plan),
    shining: numberRuns([...shining].sort((a, b) => a - b)),
    takes_down: [...new Set(lit.flatMap(({ circuits }) => circuits.map(({ tag }) => tag)))],
  };
}

/** To take down what still shines is for somebody to choose, and what that is is said before. */
export function refuseUnchosen(
  cable: string,
  dark: MendFacts["dark"],
  { plan: nth, sever }: { readonly plan: number; readonly sever?: boolean | undefined },
  plan: MendPlan,
): void {
  if (sever) return;
  const alone = (plan.also_down ?? []).map(({ circuit }) => circuit.tag);
  if (alone.length > 0 && (!dark || !seversAll(plan))) {
    const reason = say`is to be chosen: way ${nth} takes down ${listed(alone)}, which the cut left alone`;
    refuse(
      "not_possible",
      say`Way ${nth} of ${cable} takes down ${listed(alone)}, which the cut left alone, while strands are moved over: choose that, or a way that spares it.`,
      [{ field: "sever", record: cable, reason }],
    );
  }
  if (!dark || !seversAll(plan)) return;
  const all = [...new Set([...dark.takes_down, ...alone])];
  const down = all.length === 0 ? say`no circuit on record` : listed(all);
  const { shining } = dark;
  const [reason, sentence] =
    plan.kind === "new_cable"
      ? [
          say`is to be chosen: way ${nth} takes off strands ${shining}, which still shine, and takes down ${down}`,
          say`Way ${nth} takes off strands ${shining} of ${cable}, which still shine, and takes down ${down}: choose that, or a way that cuts the dark strands alone.`,
        ]
      : [
          say`is to be chosen: way ${nth} severs strands ${shining}, which still shine, and takes down ${down}`,
          say`Way ${nth} severs strands ${shining} of ${cable}, which still shine, and takes down ${down}: choose that, or a way that cuts the dark strands alone.`,
        ];
  refuse("not_possible", sentence, [{ field: "sever", record: `${cable}:${dark.shining}`, reason }]);
}

/** Circuits on other glass of the cable, which the cut left alone and new cable is joined in the place of all the same. */
export async function aloneWords(
  { context }: PlanDraft,
  { cable }: MendReckoned,
  { kind }: MendPlan,
  { through, all, between }: { through: MendFacts["through"]; all: readonly GlassUnit[]; between: CutBetween },
): Promise<string[]> {
  const tagsOf = (units: readonly GlassUnit[]) => units.flatMap(({ circuits }) => circuits.map(({ tag }) => tag));
  const over =
    kind === "new_cable" ? tagsOf(await glassUnits(context.reader, cable.id, context.today, null, between)) : [];
  const alone =
    kind === "new_cable"
      ? tagsOf(all).filter((tag) => !over.includes(tag))
      : [...(through?.alone ?? new Set<string>())];
  if (alone.length === 0) return [];
  return [
    say`The cut left ${listed([...new Set(alone)])} alone, and this way takes that down while its strands are moved over: choose it only when whoever answers for it has said so.`,
  ];
}
