/** The steps by which neighbours lend sheath to a loop: each pull with what it leaves on record, and the mouths read anew. */
import { ASKED, byHand, type PlannedStep } from "../jobs/step.ts";
import { formatLength } from "../model/units.ts";
import type { MovedStop } from "../repair/lent-marks.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { Half, LoopPull } from "./answer.ts";
import { marksWords } from "./wording.ts";

/** What a mouth of the cable says once sheath has been pulled past it. */
type Moved = MovedStop & { readonly ordinal: number; readonly place: RecordRef | null };

/** A pull and what it leaves on record: coils, and marks as they are worked out. */
export interface PullMade {
  readonly pull: LoopPull;
  readonly moved: readonly Moved[];
}

export interface PullFacts {
  readonly cable: RecordRef;
  readonly place: RecordRef;
  /** The places at both ends of the cable. */
  readonly ends: Readonly<Record<Half, RecordRef | null>>;
  readonly pulls: readonly PullMade[];
}

const metres = (value: number): string => formatLength(value, "m", 1);

/** Each pull is noted when it is made: what stays, and the marks at every mouth as they are worked out from it. */
export function pullSteps({ pulls, cable, place }: PullFacts, tag: string): PlannedStep[] {
  return pulls.map(({ pull, moved }): PlannedStep => {
    const from = pull.place?.tag ?? pull.stop.tag;
    const words = say`At ${from} take ${metres(pull.pulled_m)} from the coil of ${cable.tag} and pull it to ${place.tag}; ${metres(pull.left_m)} stay coiled`;
    const changes = moved.flatMap(({ ordinal, slack_m, ...own }) => {
      const marks = marksOf(own);
      const values = {
        ...marks,
        ...(Object.keys(marks).length > 0 ? { marks_basis: "computed" } : {}),
        ...(slack_m === null ? {} : { slack_m }),
      };
      return Object.keys(values).length === 0 ? [] : [{ op: "edit", kind: "stop", id: `${tag}@${ordinal}`, values }];
    });
    if (changes.length === 0) return byHand(words, pull.place);
    return {
      act: "record.change_many",
      input: { changes, summary: say`Pull ${cable.tag} from ${from} to ${place.tag}` },
      words: say`${words}; the marks at the mouths are worked out from it until somebody reads them`,
      place: pull.place,
    };
  });
}

const marksOf = ({ mark_in, mark_out }: Pick<Moved, "mark_in" | "mark_out">) =>
  Object.fromEntries(Object.entries({ mark_in, mark_out }).filter(([, mark]) => mark !== null));

/** While the crew is there: marks at mouths that see other sheath now are read, and the label hung where the cable is. */
export function readSteps({ pulls, cable, place, ends }: PullFacts, tag: string): PlannedStep[] {
  const last = new Map(pulls.flatMap(({ moved }) => moved.map((one) => [one.ordinal, one] as const)));
  return [...last.values()]
    .filter((one) => one.place?.id !== place.id)
    .sort((a, b) => a.ordinal - b.ordinal)
    .map((one): PlannedStep => {
      const marks = marksOf(one);
      const at = one.place?.tag ?? `${tag}@${one.ordinal}`;
      const now = marksWords(marks, ends);
      if (now === "")
        return byHand(say`At ${at} hang the label of ${cable.tag} anew, and write down what is coiled`, one.place);
      return {
        act: "record.edit",
        input: {
          kind: "stop",
          id: `${tag}@${one.ordinal}`,
          values: {
            ...Object.fromEntries(Object.keys(marks).map((mouth) => [mouth, ASKED])),
            marks_basis: "read",
          },
        },
        words: say`At ${at} read the marks of ${cable.tag} anew, for they are only worked out: ${now}; enter what is read, and hang its label again`,
        place: one.place,
      };
    });
}
