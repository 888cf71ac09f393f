/** The way pointed at, as a list of work: which strands from where to where, and what joins them. */
import type { FreePairAnswer, FreeStretch, FreeWay } from "../../../core/free-pair/answer.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";

export function WayLeaf({
  answer,
  way,
}: {
  readonly answer: FreePairAnswer;
  readonly way: (FreeWay & { readonly number: number }) | null;
}) {
  return (
    <>
      {answer.cautions.length > 0 ? (
        <div className="leaf-cautions">
          <Cautions cautions={answer.cautions} />
        </div>
      ) : null}
      {way ? (
        <>
          <LeafHead tag={`Way ${way.number}`}>
            {way.joints.length === 0 ? "joined already: nothing is to be made" : "in this order"}
          </LeafHead>
          {way.stretches.map((stretch, index) => (
            <div key={`${stretch.from.kind} ${stretch.from.id} ${stretch.to.id}`}>
              <Stretch stretch={stretch} />
              <Joint way={way} index={index} />
            </div>
          ))}
        </>
      ) : null}
    </>
  );
}

function Joint({ way, index }: { readonly way: FreeWay; readonly index: number }) {
  const joint = way.joints[index];
  if (!joint) return null;
  return (
    <p className="free-joint">
      <b>
        {joint.count} {joint.kind}
        {joint.count === 1 ? "" : "s"}
      </b>{" "}
      at <TagLink record={joint.space} />
    </p>
  );
}

function Stretch({ stretch }: { readonly stretch: FreeStretch }) {
  const length = useLength();
  return (
    <LeafPart>
      <p>
        <TagLink record={stretch.from} /> to <TagLink record={stretch.to} />
        {stretch.length_m === null ? "" : `, ${length(stretch.length_m)}`}
      </p>
      <ul className="free-strands">
        {stretch.strands.map(({ from, to, sections }) => (
          <li key={sections.map(({ id }) => id).join(" ")}>
            {sections.map((section, index) => (
              <span key={section.id}>
                {index > 0 ? ", " : ""}
                <TagLink record={section} />
              </span>
            ))}
            <span className="small faint">
              {from.kind === "position" ? `${from.tag} to ` : ""}
              {to.kind === "position" ? to.tag : ""}
            </span>
          </li>
        ))}
      </ul>
      {stretch.lacks.map((words) => (
        <p key={words} className="small faint">
          {words}
        </p>
      ))}
    </LeafPart>
  );
}
