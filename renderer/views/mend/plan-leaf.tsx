/** Beside the ways: the cautions, and what the plans are reckoned by. Below them: the way pointed at, side by side. */
import type { MendAnswer, MendAnswerPlan, MendSide } from "../../../core/repair/answer.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";

export function MendLeaf({ answer }: { readonly answer: MendAnswer }) {
  const length = useLength();
  return (
    <>
      <Cautions cautions={answer.cautions} />
      <LeafPart title="Reckoned by">
        <ul className="leaf-list">
          {answer.limits.map((limit) => (
            <li key={limit.tag}>
              {limit.meaning ?? limit.tag}:{" "}
              <b>
                {limit.unit === "m"
                  ? length(limit.value)
                  : limit.unit === "ratio"
                    ? `${Math.round(limit.value * 1000) / 10}\u2009%`
                    : `${limit.value}\u2009${limit.unit ?? ""}`}
              </b>
              <span className="small faint">{limit.source}</span>
            </li>
          ))}
        </ul>
      </LeafPart>
    </>
  );
}

/** What each remain lacks, and the coils pulled for it. */
export function PlanDetail({ plan }: { readonly plan: MendAnswerPlan & { readonly number: number } }) {
  if (plan.sides.length === 0) return null;
  return (
    <section className="locate-part" aria-labelledby="mend-way">
      <h2 id="mend-way">Way {plan.number}: what is left of the cable on each side</h2>
      <div className="mend-sides">
        {plan.sides.map((side, index) => (
          <Side key={side.from?.id ?? index} side={side} />
        ))}
      </div>
    </section>
  );
}

function Side({ side }: { readonly side: MendSide }) {
  const length = useLength();
  return (
    <div>
      <p>
        From {side.from ? <TagLink record={side.from} /> : "its end"}:{" "}
        {side.lack_m > 0
          ? `lacks ${length(side.lack_m)}`
          : side.lack_m < 0
            ? `${length(-side.lack_m)} more than it needs`
            : "just reaches"}
      </p>
      {side.pulls.length > 0 ? (
        <ul>
          {side.pulls.map((pull) => (
            <li key={pull.stop.id}>
              {length(pull.pulled_m)} pulled at <TagLink record={pull.place ?? pull.stop} />, {length(pull.left_m)}{" "}
              stays
            </li>
          ))}
        </ul>
      ) : null}
      {side.trimmed_m > 0 ? <p className="small faint">{length(side.trimmed_m)} is cut off where it lies.</p> : null}
    </div>
  );
}
