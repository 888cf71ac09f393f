/** What makes the place uncertain, term by term, and the cautions for whoever goes there. */
import type { LocateAnswer } from "../../../core/locate/answer.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";

const BASIS = { on_record: "on record", given: "as given", usual: "usual value" } as const;

export function BandLeaf({ answer: { band, cautions, readings } }: { readonly answer: LocateAnswer }) {
  const length = useLength();
  return (
    <>
      <LeafHead tag={`± ${length(band.likely_m)}`}>
        in 95 of 100 cases; never more than {length(band.bound_m)}, every term at its worst
      </LeafHead>
      {cautions.length > 0 ? (
        <LeafPart>
          <Cautions cautions={cautions} />
        </LeafPart>
      ) : null}
      <LeafPart title="What it is made of">
        <ul className="locate-terms">
          {band.terms.map((term) => (
            <li key={`${term.kind} ${term.words}`}>
              <b>{length(term.metres)}</b> {term.words}
              <span className="small faint">
                {BASIS[term.basis]}: {term.source}
                {term.record ? (
                  <>
                    {" "}
                    <TagLink record={term.record} />
                  </>
                ) : null}
              </span>
            </li>
          ))}
        </ul>
      </LeafPart>
      <LeafPart title="As it was read">
        {readings.map((reading) => (
          <div key={reading.from.tag}>
            <p>{reading.words}</p>
            {reading.conventions.map((words) => (
              <p key={words} className="small faint">
                {words}
              </p>
            ))}
          </div>
        ))}
      </LeafPart>
    </>
  );
}
