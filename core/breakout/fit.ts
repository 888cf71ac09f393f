/** Whether a break-out fits as things lie: its loop, its hole, its way and what it lands on. */
import { formatLength } from "../model/units.ts";
import { say } from "../words/say.ts";
import type { BreakoutPlan, CutPlace, Fit, HoleRoom, Landing, LateralPlan, Loop } from "./answer.ts";

export interface FitAsked extends Pick<BreakoutPlan, "short" | "promised"> {
  readonly loop: Loop;
  readonly room: HoleRoom;
  readonly lateral: Pick<LateralPlan, "to" | "pathways" | "pipes" | "way_m" | "landing">;
  readonly place: string;
  /** Whether what can be opened leaves enough to splice. */
  readonly glass: CutPlace["glass"];
}

/** Strands that lead nowhere, a hole that is too small, a coil that doesn't suffice, a way without room: each by itself is against it. Pure. */
export function fitOf({ loop, room, lateral, place, short, promised, glass }: FitAsked): Fit {
  const { to, pipes, way_m, landing } = lateral;
  const against = [
    ...(glass === "no" ? [say`less of it can be opened there than a splice takes`] : []),
    ...short.flatMap(({ reach, words }) => (reach === "cut" ? [words] : [])),
    ...(loop.reaches === "in_place" && glass !== "no" ? [lacksWords(loop, place)] : []),
    ...(room.fits === "no" ? [room.words] : []),
    ...pipes.flatMap(({ pathway, has_pipes, pipe }) =>
      has_pipes && pipe === null ? [say`no pipe of ${pathway.tag} is known to have room for the lateral`] : [],
    ),
  ];
  const open = [
    ...(loop.reaches === "to_prove" ? [say`its loop comes out only by pulls that nobody has proven`] : []),
    ...(loop.reaches === "unknown" ? [say`what lies coiled at ${place} is not on record`] : []),
    // In a room of a building nobody asks whether case and coils fit.
    ...(room.fits === null && room.to_prove.length > 0 ? [room.to_prove[0] as string] : []),
    ...(to !== null && way_m === null ? [say`how long the way to ${to.tag} is, is not known`] : []),
    ...noLanding(landing, to?.tag ?? ""),
    ...short.flatMap(({ reach, words }) => (reach === "open" ? [words] : [])),
    ...promised.map(({ words }) => words),
  ];
  return { verdict: against.length > 0 ? "no" : open.length > 0 ? "open" : "yes", against, open };
}

/** Why its loop doesn't come out. */
function lacksWords({ has_m, lack_m, lends_m }: Loop, place: string): string {
  if (has_m !== null && has_m < 0.05 && lends_m === 0)
    return say`no spare lies at ${place} and none can be drawn there: it is opened in place only`;
  if (lack_m === null) return say`its coils don't suffice: it is opened in place only`;
  const lacks = formatLength(lack_m, "m", 1);
  if (lends_m === null) return say`its coils don't suffice, they lack ${lacks}: it is opened in place only`;
  return lends_m === 0
    ? say`its coils don't suffice, they lack ${lacks} and none can be drawn there: it is opened in place only`
    : say`its coils don't suffice, they lack ${lacks} and neighbours lend ${formatLength(lends_m, "m", 1)}: it is opened in place only`;
}

const noLanding = (landing: Landing | null, to: string): string[] =>
  landing?.how === "new" ? [say`nothing on record to land on in ${to}: ${landing.tag} is set anew`] : [];

const RANK: Readonly<Record<Fit["verdict"], number>> = { yes: 0, open: 1, no: 2 };

/** What fits comes before what is to be proved, that before what doesn't; of equals what has less against it. */
export const fitsBetter = (a: Fit, b: Fit): number =>
  RANK[a.verdict] - RANK[b.verdict] || a.against.length - b.against.length || a.open.length - b.open.length;

export const fitWords = ({ verdict, against, open }: Fit): string =>
  verdict === "yes"
    ? say`fits by the record`
    : verdict === "no"
      ? say`doesn't fit as it lies: ${[...against, ...open].join("; ")}`
      : say`may fit: ${open.join("; ")}`;
