/** What circuits lose once a wrecked case is renewed: every splice in it made anew, and one more where glass ran through it. */
import { readLightFacts } from "../light/facts.ts";
import { LightLine } from "../light/line.ts";
import { waysOf } from "../light/ways.ts";
import type { Limits } from "../standards/limits/in-use.ts";
import type { Reader } from "../store/handle.ts";
import type { Hop } from "../trace/answer.ts";
import { traced } from "../trace/trace.ts";
import type { MendLoss } from "./answer.ts";
import { landsAnew } from "./case-piece.ts";
import { factsAfter, lossesBothWays, mended, spliceToMake } from "./loss-after.ts";
import { type CaseArm, type LostCase, remainOf } from "./lost-case.ts";
import { millimetre } from "./told.ts";

/** Sheath that is more than before, and splices on the way to the new case. */
interface Added {
  readonly more_m: number;
  readonly splices: number;
}

/** Of all circuits on it, the most urgent first; of a circuit on several strands, the one that is worst off. */
export async function caseLosses(
  reader: Reader,
  { arms, glass, lost_m }: LostCase,
  limits: Limits,
  today: string,
): Promise<readonly MendLoss[]> {
  const added = new Map(arms.map((arm) => [`${arm.end.stop_id} ${arm.side}`, addedBy(arm, lost_m)]));
  const armOf = (stop_id: number, side: CaseArm["side"]): Added =>
    added.get(`${stop_id} ${side}`) ?? { more_m: 0, splices: 0 };
  const touched = new Map<number, Added>();
  const add = (section: number, own: Added): void => {
    const { more_m, splices } = touched.get(section) ?? { more_m: 0, splices: 0 };
    touched.set(section, { more_m: more_m + own.more_m, splices: splices + own.splices });
  };
  // Glass whose B side ends there comes from the side of the first stop.
  for (const { a, b } of glass.joints)
    for (const { section_id, stop_id, side } of [a, b])
      add(section_id, armOf(stop_id, side === "B" ? "left" : "right"));
  for (const { id, stop_id } of glass.express) {
    add(id, armOf(stop_id, "left"));
    add(id, armOf(stop_id, "right"));
    add(id, { more_m: 0, splices: 1 });
  }
  const made = new Set([...glass.joints.map(({ id }) => id), ...(await splicedAnew(reader, arms))]);
  const circuits = [...glass.circuits, ...glass.not_in_service];
  const [losses = []] = await lossesBothWays(reader, { circuits, limits, ways: 1 }, async (circuit) => {
    const { answer, facts } = await traced(reader, { kind: "circuit", id: circuit }, today);
    const ways = answer.lines.flatMap((line) => waysOf(line, answer.asked));
    const light = await readLightFacts(reader, new Set(ways.flatMap(({ hops }) => hops)), facts);
    return ways.flatMap(({ hops }) => {
      const changed = hops.flatMap(({ kind, record }, at) =>
        (kind === "splice" && made.has(record.id)) || (kind === "strand" && touched.has(record.id)) ? [at] : [],
      );
      if (changed.length === 0) return [];
      const how = { method: "fusion" } as const;
      const after = changed.toReversed().reduce<readonly Hop[]>((now, at) => {
        const own = touched.get(hops[at]?.record.id ?? 0);
        return hops[at]?.kind === "splice" || !own
          ? now.map((hop, index) => (index === at ? spliceToMake(hop) : hop))
          : mended(now, at, { ...own, more_m: millimetre(own.more_m), ...how });
      }, hops);
      return [
        {
          before: new LightLine(hops, light, limits),
          after: [new LightLine(after, factsAfter(light, hops, changed, how), limits)],
        },
      ];
    });
  });
  return losses;
}

/** What is ordered is taken as glass, waste and all: rather more than less. */
function addedBy(arm: CaseArm, lost_m: number): Added {
  const more_m = (arm.piece?.new_cable_m ?? 0) - lost_m - remainOf(arm).trimmed_m;
  // Up to the end of the old cable it is joined to what that was joined to.
  return { more_m, splices: arm.piece && !landsAnew(arm.piece) ? 1 : 0 };
}

/** Splices at the ends of cables that new cable takes the place of up to there, in a case. */
async function splicedAnew(reader: Reader, arms: readonly CaseArm[]): Promise<number[]> {
  const ends = arms.flatMap(({ cable, on, side, piece }) =>
    piece?.plan.landed_in_case
      ? [{ cable: cable.id, stop: on.stops[piece.at]?.stop.id, side: side === "left" ? "A" : "B" }]
      : [],
  );
  const joined = (end: "a" | "b"): string =>
    `select p.id from json_each(?1) e join strand t on t.cable_id = e.value ->> 'cable'
       join section s on s.strand_id = t.id join splice p on p.${end}_section_id = s.id and p.${end}_side = e.value ->> 'side'
     where p.life in ('in_place', 'out_of_use')
       and iif(p.${end}_side = 'A', s.a_stop_id, s.b_stop_id) = e.value ->> 'stop'`;
  const rows = await reader.rows<{ id: number }>(`${joined("a")} union ${joined("b")} order by 1`, [
    JSON.stringify(ends),
  ]);
  return rows.map(({ id }) => id);
}
