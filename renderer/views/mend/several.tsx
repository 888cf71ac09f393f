/** A way is cut with all that lies in it: each cable, the one with the most at stake first, and its best way. */
import type { MendWhole } from "../../../core/repair/answer.ts";
import type { MendSeveralAnswer, MendTogether } from "../../../core/repair/several-answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { CircuitsByPriority } from "../../controls/circuits-by-priority.tsx";
import { decimal, useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { NotOurs } from "./not-ours.tsx";
import { OneJob } from "./one-job.tsx";

export interface SeveralAsked {
  /** A pathway or pipe; or the two places between which everything is cut. */
  readonly of: string | readonly [string, string];
  readonly metres: number | null;
  readonly left_m: number | null;
  readonly right_m: number | null;
  /** The cable pointed at, by its id. */
  readonly at: string | undefined;
}

export function Several({ of, metres, left_m, right_m, at }: SeveralAsked) {
  const answer = useAnswer("mend.several", {
    ...(typeof of === "string" ? { of: [of] } : { between: [...of] as [string, string] }),
    ...(metres === null ? {} : { metres }),
    ...(left_m === null ? {} : { lost_from_m: left_m }),
    ...(right_m === null ? {} : { lost_to_m: right_m }),
  });
  return answer.value ? (
    <Page {...told(answer.value, at, jobOf({ of, metres, left_m, right_m }))} />
  ) : (
    <Page>
      <Answered
        answer={answer}
        word={say`Planning`}
        {...(answer.error?.code === "not_found" ? { asked: answer.error.problems[0]?.record ?? "" } : {})}
      >
        {() => null}
      </Answered>
    </Page>
  );
}

/** The act that makes one job of all the mends, filled with the cut as it was asked for. */
const jobOf = ({ of, metres, left_m, right_m }: Omit<SeveralAsked, "at">): string =>
  addressOf("acts", {
    do: "job.plan_mends",
    ...(typeof of === "string" ? { of } : { between: of.join(", ") }),
    ...(metres === null ? {} : { metres: String(metres) }),
    ...(left_m === null ? {} : { lost_from_m: String(left_m) }),
    ...(right_m === null ? {} : { lost_to_m: String(right_m) }),
  });

/** The address of one cable's own plans, cut where the way is cut. */
const planOf = ({ cable, cut }: MendWhole): Record<string, string> => ({
  of: cable.tag,
  after: cut.after?.tag ?? "",
  // What nobody said isn't said for them.
  ...(cut.stretch_m === null
    ? {
        metres: String(cut.from_mouth_m ?? ""),
        lost:
          cut.lost_left_m === cut.lost_right_m ? String(cut.lost_left_m) : `${cut.lost_left_m}; ${cut.lost_right_m}`,
      }
    : { until: cut.until?.tag ?? "" }),
});

const From = ({ of }: { readonly of: MendWhole }) => {
  const length = useLength();
  return (
    <>
      {unbroken(of.cut.between.map((place) => place?.tag ?? "…").join(" – "))}
      {of.cut.stretch_m === null
        ? unbroken(say`, ${length(of.cut.from_mouth_m ?? 0)} from ${of.cut.between[0]?.tag ?? say`the first`}`)
        : say`, somewhere on these ${length(of.cut.stretch_m)}`}
    </>
  );
};

type Row = MendWhole & { readonly job: MendTogether | undefined };

const COLUMNS: readonly WalkedColumn<Row>[] = [
  {
    key: "cable",
    head: say`cable`,
    show: (one) => (
      <a className="link mono" href={addressOf("mend", planOf(one))}>
        {one.cable.tag}
      </a>
    ),
  },
  { key: "where", head: say`cut`, show: (one) => <From of={one} /> },
  {
    key: "down",
    head: say`down, by priority`,
    show: ({ circuits, strands }) =>
      circuits.length === 0 ? (
        say`${counted(strands, "strand")}, no circuit`
      ) : (
        <CircuitsByPriority of={circuits} most={6} />
      ),
  },
  {
    key: "what",
    head: say`in one job for all`,
    show: ({ plans: [best], job }) => (
      <>
        {unbroken(job?.way.sentence ?? say`none`)}
        {job && job.way.to_prove.length > 0 ? (
          <span className="mend-under">
            {sayWith`${<FindingMark shape="gap" />} to prove: ${unbroken(job.way.to_prove.join("; "))}`}
          </span>
        ) : null}
        {job?.differs ? (
          <span className="mend-under">{unbroken(say`By itself: ${best?.sentence ?? say`none`}`)}</span>
        ) : null}
      </>
    ),
  },
  {
    key: "hours",
    head: say`hours`,
    className: "figure",
    show: ({ job }) => (job?.way.hours.hours == null ? "" : decimal(job.way.hours.hours)),
  },
];

function told(answer: MendSeveralAnswer, at: string | undefined, job: string): PageProps {
  const { cuts, theirs, refused, shared, unknown, doubts } = answer;
  const named = [
    ...answer.of,
    ...theirs.flatMap(({ cable, owner }) => [cable, owner.party]),
    ...cuts.map(({ cable }) => cable),
  ];
  return {
    answer: <Tagged text={answer.sentence} records={named} />,
    ...(cuts.length > 0
      ? {
          acts: (
            <a className="button" href={job}>
              {say`Make one job of all`}
            </a>
          ),
        }
      : {}),
    leaf: <Cautions cautions={answer.cautions} />,
    children: (
      <Region name="ledger" label={say`Cables that are cut`} className="mend-ledger">
        {theirs.length > 0 ? <NotOurs label={say`Not ours to mend: call first`} of={theirs} /> : null}
        <Walked
          label={say`Cables that are cut, the most at stake first`}
          columns={COLUMNS}
          rows={cuts.map((cut, index): Row => ({ ...cut, job: answer.together[index] }))}
          keyOf={({ cable }) => String(cable.id)}
          selected={at ?? (cuts[0] ? String(cuts[0].cable.id) : null)}
          onSelect={(at) => goWith({ at }, { replace: true })}
          className="mend-plans"
        />
        {cuts.length > 0 ? <OneJob answer={answer} /> : null}
        {shared.length > 0 ? (
          <section className="locate-part" aria-labelledby="mend-shared">
            <h2 id="mend-shared">{say`Holes that more than one would want, each mended by itself`}</h2>
            <ul>
              {shared.map(({ place, words, fits }) => (
                <li key={place?.id ?? 0}>
                  {fits === true ? null : <FindingMark shape={fits === false ? "error" : "gap"} />} {unbroken(words)}
                </li>
              ))}
            </ul>
          </section>
        ) : null}
        {refused.length > 0 ? (
          <section className="locate-part" aria-labelledby="mend-unplanned">
            <h2 id="mend-unplanned">{say`No plan yet`}</h2>
            <ul>
              {refused.map(({ cable, reason }) => (
                <li key={cable.id}>
                  <TagLink record={cable} />: {unbroken(reason)}
                </li>
              ))}
            </ul>
          </section>
        ) : null}
        {doubts.length > 0 ? (
          <section className="locate-part" aria-labelledby="mend-doubts">
            <h2 id="mend-doubts">{say`In doubt: look first`}</h2>
            <ul>
              {doubts.map((words) => (
                <li key={words}>{unbroken(words)}</li>
              ))}
            </ul>
          </section>
        ) : null}
        {unknown.length > 0 ? (
          <section className="locate-part" aria-labelledby="mend-perhaps">
            <h2 id="mend-perhaps">{say`May be cut too`}</h2>
            <ul>
              {unknown.map((words) => (
                <li key={words}>{unbroken(words)}</li>
              ))}
            </ul>
          </section>
        ) : null}
      </Region>
    ),
  };
}
