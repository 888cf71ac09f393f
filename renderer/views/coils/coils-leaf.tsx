/** Beside and below the cables: cautions, what is taken for granted, limits; coils by place; what can't be told. */
import type { CoilsAnswer } from "../../../core/repair/coils/answer.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { LeafPart } from "../../controls/leaf.tsx";
import { ReckonedBy } from "../../controls/reckoned-by.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";

export function CoilsLeaf({ answer }: { readonly answer: CoilsAnswer }) {
  return (
    <>
      <Cautions cautions={answer.cautions} />
      <LeafPart title={say`Assumed`}>
        <ul className="leaf-list">
          {answer.assumed.map((words) => (
            <li key={words}>{unbroken(words)}</li>
          ))}
        </ul>
      </LeafPart>
      <ReckonedBy limits={answer.limits} />
    </>
  );
}

export function Places({ places }: Pick<CoilsAnswer, "places">) {
  const length = useLength();
  if (places.length === 0) return null;
  return (
    <section className="coils-part" aria-labelledby="coils-places">
      <h2 id="coils-places">{say`Coils wanted, place by place`}</h2>
      <ul className="coils-places">
        {places.map(({ place, words, coils, more_m }) => (
          <li key={words}>
            {place ? <TagLink record={place} /> : words}
            {plural(coils, ": {0} coil, {1} in all", ": {0} coils, {1} in all", length(more_m))}
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Untold({ untold }: Pick<CoilsAnswer, "untold">) {
  if (untold.length === 0) return null;
  return (
    <section className="coils-part" aria-labelledby="coils-untold">
      <h2 id="coils-untold">{say`Of which it can't be told`}</h2>
      <ul>
        {untold.map(({ cable, reason }) => (
          <li key={cable.id}>
            <TagLink record={cable} />: {reason}
          </li>
        ))}
      </ul>
    </section>
  );
}
