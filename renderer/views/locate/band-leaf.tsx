/** What makes the place uncertain, term by term, and the cautions for whoever goes there. */
import type { BandTerm, LocateAnswer } from "../../../core/locate/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";

const BASIS = { on_record: say`on record`, given: say`as given`, usual: say`usual value` } as const;

export function BandLeaf({ answer: { places, disagreements, cautions, readings } }: { readonly answer: LocateAnswer }) {
  const length = useLength();
  const [first] = places;
  const one = places.length === 1 && first !== undefined;
  return (
    <>
      {one ? (
        <LeafHead tag={`± ${length(first.band.likely_m)}`}>
          {first.band.how === null
            ? say`in 95 of 100 cases; never more than ${length(first.band.bound_m)}, every term at its worst`
            : say`in 95 of 100 cases; never more than ${length(first.band.nearer_m)} nearer or ${length(first.band.farther_m)} farther, as each reading bounds it`}
        </LeafHead>
      ) : (
        <LeafHead tag={say`${places.length} places`}>
          {disagreements.some(({ apart_m }) => apart_m !== null)
            ? say`readings that don't agree are not averaged: each stands by itself`
            : say`the readings share no glass: each stands by itself`}
        </LeafHead>
      )}
      {cautions.length > 0 ? (
        <LeafPart>
          <Cautions cautions={cautions} />
        </LeafPart>
      ) : null}
      {places.map(({ from, band }) => (
        <LeafPart
          key={from.map(({ tag }) => tag).join()}
          title={
            one
              ? say`What it is made of`
              : say`± ${length(band.likely_m)} from ${from.map(({ tag }) => tag).join(say` and `)}, made of`
          }
        >
          <Terms terms={band.terms} />
          {band.how === null ? null : <p className="small faint">{band.how}</p>}
        </LeafPart>
      ))}
      <LeafPart title={say`As it was read`}>
        {readings.map((reading) => (
          <div key={`${reading.from.tag} ${reading.words}`}>
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

function Terms({ terms }: { readonly terms: readonly BandTerm[] }) {
  const length = useLength();
  return (
    <ul className="locate-terms">
      {terms.map((term) => (
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
  );
}
