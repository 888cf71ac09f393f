/** Whether a cable belongs where it lies: each leg and stop held against each rule. */
import { refuse } from "../result.ts";
import { pick, refOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";
import type { FitnessAnswer } from "./answer.ts";
import { type Facts, type FitCable, readFacts } from "./facts.ts";
import { TERMINATIONS, type Terminations } from "./held.ts";
import { judge } from "./judge.ts";
import type { About, Judgement } from "./judgement.ts";
import { fitnessLimits } from "./limits.ts";
import { pipes, pipesOf } from "./pipes.ts";
import { cautionOf, countsTold, told } from "./told.ts";

/**
 * @param what a cable, or a stop of one (`F-012@3`), by address or id
 * @param at a pathway, pipe or place that the cable lies in, to be told of that alone
 * @throws Refusal `not_found` or `ambiguous` for a name, `not_possible` for a way or place that the cable does not lie in
 */
export async function fitnessOf(
  reader: Reader,
  { what, at }: { readonly what: string | number; readonly at?: string | undefined },
  today: string,
): Promise<FitnessAnswer> {
  const subject =
    typeof what === "number"
      ? await pick(reader, what, { kinds: ["cable"], field: "what" })
      : await resolveOne(reader, what, { kinds: ["cable", "stop"], field: "what" });
  const stop = subject.kind === "stop" ? subject : null;
  const [owner] = stop
    ? await reader.rows<{ cable_id: number }>("select cable_id from stop where id = ?", [stop.id])
    : [];
  const id = owner?.cable_id ?? subject.id;
  const part =
    stop ??
    (at === undefined
      ? null
      : await resolveOne(reader, at, { kinds: ["stop", "pathway", "conduit", "space", "building"], field: "at" }));
  const facts = await readFacts(reader, [id]);
  const [cable] = facts.cables;
  const ref = await refOf(reader, "cable", id);
  if (!cable || !ref)
    refuse("not_found", say`That cable is no longer on record.`, [{ field: "what", reason: say`is not on record` }]);
  const limits = await fitnessLimits(reader);
  const terminations = await reader.rows<Terminations>(TERMINATIONS(false), [JSON.stringify([id])]);
  const all = [...judge(facts, cable, limits, { terminations, today }), ...pipes(facts, pipesOf(facts, cable), limits)];
  const judgements = part === null ? all : all.filter((one) => isOf(one, [part.kind, part.id], facts));
  if (part !== null && !liesAt(cable, [part.kind, part.id], facts)) {
    refuse("not_possible", say`${ref.tag} does not lie at ${part.tag}.`, [
      { record: part.tag, field: stop ? "what" : "at", reason: say`is nowhere on the course of ${ref.tag}` },
    ]);
  }
  const answer = await told(reader, judgements);
  return {
    cable: ref,
    type: cable.type_id === null ? null : await refOf(reader, "cable_type", cable.type_id),
    part,
    ...answer,
    caution: await cautionOf(reader),
    sentence: `${ref.tag}${part ? say` at ${part.tag}` : ""} ${countsTold(answer.counts)}.`,
  };
}

function liesAt({ stops, legs }: FitCable, [kind, id]: About, facts: Facts): boolean {
  if (kind === "pathway") return legs.some(({ pathway_id }) => pathway_id === id);
  if (kind === "conduit") return legs.some(({ conduit_id }) => conduit_id === id);
  if (kind === "stop") return stops.some((stop) => stop.id === id);
  const at = kind === "building" ? "building_id" : "id";
  return stops.some(({ space_id }) => facts.spaces.get(space_id ?? 0)?.[at] === id);
}

/** Whether a judgement is about a record: itself, or a stop or way in it. */
function isOf(one: Judgement, [kind, id]: About, facts: Facts): boolean {
  if (one.records.some((record) => record[0] === kind && record[1] === id)) return true;
  const stops = facts.cables.flatMap((cable) => cable.stops);
  return one.records.some(([of, own]) => {
    if (of !== "stop") return false;
    const space = facts.spaces.get(stops.find((stop) => stop.id === own)?.space_id ?? 0);
    return kind === "space" ? space?.id === id : kind === "building" && space?.building_id === id;
  });
}
