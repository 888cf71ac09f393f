/** Beside the ways: the cautions, and what the plans are reckoned by. Below them: the way pointed at, side by side. */

import { choiceWords } from "../../../core/model/wording.ts";
import type { MendAnswer, MendAnswerPlan, MendSide, MendWhole, MendWholePlan } from "../../../core/repair/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { decimal, useLength } from "../../controls/figures.ts";
import { ReckonedBy } from "../../controls/reckoned-by.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { Losses } from "./losses.tsx";

export function MendLeaf({ answer }: { readonly answer: MendAnswer }) {
  return (
    <>
      <Cautions cautions={answer.cautions} />
      <ReckonedBy limits={answer.limits} />
    </>
  );
}

/** What each remain lacks, and the coils pulled for it; of a sheath that is not parted the loops it is opened in. */
export function PlanDetail({ plan }: { readonly plan: MendAnswerPlan & { readonly number: number } }) {
  const length = useLength();
  if (plan.loops.length > 0)
    return (
      <section className="locate-part" aria-labelledby="mend-way">
        <h2 id="mend-way">{say`Way ${plan.number}: where the sheath is opened, with strands shining in it`}</h2>
        <div className="mend-sides">
          {plan.loops.map((loop) => (
            <div key={loop.name}>
              <p>{unbroken(loop.words)}</p>
              <Pulls of={loop.pulls} />
              {loop.reaches === "opened" ? null : (
                <p className="small faint">{say`${length(loop.window_m)} are opened; nothing is cut off.`}</p>
              )}
            </div>
          ))}
        </div>
      </section>
    );
  if (plan.sides.length === 0) return null;
  return (
    <section className="locate-part" aria-labelledby="mend-way">
      <h2 id="mend-way">{say`Way ${plan.number}: what is left of the cable on each side`}</h2>
      <div className="mend-sides">
        {plan.sides.map((side, index) => (
          <Side key={side.from?.id ?? index} side={side} />
        ))}
      </div>
    </section>
  );
}

function Pulls({ of }: { readonly of: MendSide["pulls"] }) {
  const length = useLength();
  if (of.length === 0) return null;
  return (
    <ul>
      {of.map((pull) => (
        <li key={pull.stop.id}>
          {sayWith`${length(pull.pulled_m)} pulled at ${<TagLink record={pull.place ?? pull.stop} />}, ${length(pull.left_m)} stays`}
        </li>
      ))}
    </ul>
  );
}

function Side({ side }: { readonly side: MendSide }) {
  const length = useLength();
  return (
    <div>
      <p>
        {say`From `}
        {side.from ? <TagLink record={side.from} /> : say`its end`}:{" "}
        {side.lack_m > 0
          ? say`lacks ${length(side.lack_m)}`
          : side.lack_m < 0
            ? say`reaches, with ${length(side.kept_m + side.over_m)} more than it needs`
            : say`just reaches`}
      </p>
      <Pulls of={side.pulls} />
      {side.kept_m > 0 ? <p className="small faint">{say`${length(side.kept_m)} of it stays as a coil.`}</p> : null}
      {side.over_m > 0 ? (
        <p className="small faint">{say`${length(side.over_m)} is more than is kept, and cut off.`}</p>
      ) : null}
      {side.needless_m > 0.0005 ? (
        <p className="small faint">
          {say`${length(side.needless_m)} isn’t needed for the splice and is cut off where it lies.`}
        </p>
      ) : null}
      {side.trimmed_m - side.over_m - side.needless_m > 0.0005 ? (
        <p className="small faint">
          {say`${length(side.trimmed_m - side.over_m - side.needless_m)} can’t come back and is cut off where it lies.`}
        </p>
      ) : null}
    </div>
  );
}

/** The splices of a way by unit, what its circuits lose afterwards, its hours part for part. */
export function PlanMore({
  answer,
  plan,
}: {
  readonly answer: MendWhole;
  readonly plan: MendWholePlan & { readonly number: number };
}) {
  const spliced = answer.shining && !plan.severs ? answer.order.filter(({ shines }) => !shines) : answer.order;
  const units = [...Map.groupBy(spliced, ({ unit_order }) => unit_order).values()];
  return (
    <>
      {plan.splicing.length > 0 ? (
        <section className="locate-part" aria-labelledby="mend-splices">
          <h2 id="mend-splices">{say`Way ${plan.number}: splices, the most urgent unit first`}</h2>
          {plan.landed ? (
            <p>
              {plan.loops.length > 0
                ? unbroken(
                    say`${plan.landed.words}: the new piece is landed in the place of the dark strands, spliced to the pigtails that stand there or with connectors anew.`,
                  )
                : unbroken(
                    say`${plan.landed.words}: the new piece is landed on the ports of the old one, number for number, spliced to the pigtails that stand there or with connectors anew.`,
                  )}
            </p>
          ) : null}
          {plan.splicing.map(({ point, by_urgency, splices, from, to }) => (
            <p key={point}>
              {unbroken(say`${point}: ${counted(splices, "splice")} of ${from} to ${to}`)}
              {by_urgency ? say`, in this order:` : say`, all as they lie, before the other point is begun.`}
            </p>
          ))}
          <ol className="mend-units">
            {units.map((strands) => {
              const [first] = strands;
              const circuits = [
                ...new Set(
                  strands.flatMap((one) =>
                    one.circuits.map(
                      ({ circuit, state = "in_service" }) =>
                        `${circuit.tag}${state === "in_service" ? "" : ` (${choiceWords("circuit", "state", state)})`}`,
                    ),
                  ),
                ),
              ];
              return (
                <li key={first?.unit_order}>
                  {sayWith`${first?.unit ?? say`strands in the sheath alone`}, strands ${first?.number} to ${strands.at(-1)?.number}`}
                  {first?.shines ? say`, still shining` : ""}
                  {circuits.length > 0 ? unbroken(`: ${circuits.join(", ")}`) : ""}
                </li>
              );
            })}
          </ol>
        </section>
      ) : null}
      {plan.losses && plan.losses.length > 0 ? (
        <section className="locate-part" aria-labelledby="mend-losses">
          <h2 id="mend-losses">{say`Way ${plan.number}: what circuits lose afterwards`}</h2>
          <Losses losses={plan.losses} failed_before={plan.failed_before} />
        </section>
      ) : null}
      <section className="locate-part" aria-labelledby="mend-hours">
        <h2 id="mend-hours">{say`Way ${plan.number}: hours`}</h2>
        <ul>
          {plan.hours.parts.map(({ words, hours, source }) => (
            <li key={words}>
              {unbroken(words)}: {hours === null ? say`not known` : `${decimal(hours)}\u202fh`}{" "}
              <span className="small faint">{source}</span>
            </li>
          ))}
        </ul>
      </section>
    </>
  );
}
