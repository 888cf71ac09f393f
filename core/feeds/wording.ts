/** What feeds a place, in one plain sentence, and the cautions for whoever goes there. */
import { formatNumber } from "../model/units.ts";
import { cautionsSaid } from "../standards/cautions.ts";
import type { StrandState } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { few, listed } from "../words/phrase.ts";
import { say } from "../words/say.ts";
import type { FeedCable, FeedsAnswer, StateCounts } from "./answer.ts";

export const STATES: Readonly<Record<StrandState, string>> = {
  in_service: say`in service`,
  reserved: say`reserved`,
  planned: say`planned`,
  leased: say`leased`,
  spare: say`spare`,
  dead: say`dead`,
  broken: say`broken`,
  assigned_twice: say`assigned twice`,
  unknown: say`not known`,
};

const stateWords = (counts: StateCounts): string =>
  (Object.entries(STATES) as [StrandState, string][])
    .filter(([state]) => counts[state] > 0)
    .map(([state, words]) => `${formatNumber(counts[state])} ${words}`)
    .join(", ");

export function sentenceOf(answer: Omit<FeedsAnswer, "sentence" | "cautions">): string {
  const { name, cables, counts, total, inside, entrances, single_points: single } = answer;
  const feeding = cables.filter(({ passes_only, without_strands }) => !passes_only && !without_strands);
  const passing = cables.filter(({ passes_only }) => passes_only).length;
  const bare = cables.filter(({ without_strands }) => without_strands).length;
  const more = [
    bare > 0 &&
      plural(
        bare,
        "{0} cable comes in whose strands are not on record",
        "{0} cables come in whose strands are not on record",
      ),
    passing > 0 && `${counted(passing, "cable only passes", "cables only pass")}`,
    inside > 0 && plural(inside, "{0} cable lies inside alone", "{0} cables lie inside alone"),
  ].filter(Boolean);
  const also = more.length > 0 ? ` ${listed(more as string[])}.` : "";
  if (feeding.length === 0) return say`No strand on record feeds ${name}.${also}`;
  const ways = say`through ${counted(entrances.length, "entrance")}`;
  const what = `${counted(feeding.length, "cable")} ${ways}, ${counted(total, "strand")}: ${stateWords(counts)}.`;
  const tags = tagsOf(single);
  const shared = tags.length === 0 ? "" : say` Every way out shares ${tags.length > 3 ? few(tags, 3) : listed(tags)}.`;
  return `${what}${cutWords(answer)}${also}${shared}`;
}

const tagsOf = (records: readonly { readonly tag: string }[]): string[] => records.map(({ tag }) => tag);

/** Circuits named when something is cut; of more the number. */
const NAMED = 6;

/** What is in service on record, and nothing comes over it. */
function cutWords({ cut, cut_circuits: down }: Pick<FeedsAnswer, "cut" | "cut_circuits">): string {
  if (cut === 0) return "";
  const tags = down.length > NAMED ? few(tagsOf(down), NAMED) : listed(tagsOf(down));
  return down.length === 0
    ? plural(
        cut,
        " {0} strand in service on record ends at a cut: nothing comes over it.",
        " {0} strands in service on record end at a cut: nothing comes over them.",
      )
    : plural(
        cut,
        " {0} strand in service on record ends at a cut: nothing comes over it for {1}.",
        " {0} strands in service on record end at a cut: nothing comes over them for {1}.",
        tags,
      );
}

export function cautionsOf(cables: readonly FeedCable[], spaceKinds: ReadonlySet<string | null>): string[] {
  const hole = ["maintenance_hole", "hand_hole", "pull_box"].some((kind) => spaceKinds.has(kind));
  return cautionsSaid([...(cables.length > 0 ? (["lit"] as const) : []), ...(hole ? (["hole"] as const) : [])]);
}
