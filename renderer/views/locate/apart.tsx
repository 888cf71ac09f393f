/** Readings that are not of one break: by how much they contradict, what that may be, and each with its own place. */
import type { LocateAnswer } from "../../../core/locate/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Tagged } from "../../controls/tagged.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { BandDrawing } from "./band.tsx";
import { Beside, Ground, mendAddress, recordsAt, Within } from "./place.tsx";

export function Apart({ answer: { places, disagreements } }: { readonly answer: LocateAnswer }) {
  return (
    <>
      {disagreements.map(({ words, from, means }) => (
        <section className="locate-part" key={words} aria-label={words}>
          <h2>
            <FindingMark shape="warning" /> <Tagged text={words} records={from} />
          </h2>
          <p>{say`That may be:`}</p>
          <ul className="locate-means">
            {means.map((one) => (
              <li key={one}>
                <Tagged text={one} records={from} />
              </li>
            ))}
          </ul>
        </section>
      ))}
      {places.map((place) => {
        const { from, where, candidates } = place;
        const mend = mendAddress(place);
        const name = say`By the reading from ${from.map(({ tag }) => tag).join(say` and `)}`;
        return (
          <section className="locate-place" key={name} aria-label={name}>
            <header className="locate-part">
              <h2>{name}</h2>
              <p>
                <Tagged text={`${where.words}.`} records={recordsAt(place)} />
              </p>
              {mend ? (
                <a className="button" href={mend}>
                  {say`How is this one mended?`}
                </a>
              ) : null}
            </header>
            {where.between.length === 2 ? <BandDrawing place={place} /> : null}
            <Beside head="h3" where={where} name={say`Beside this place`} />
            {candidates.length > 0 ? <Within head="h3" some={candidates} /> : null}
            <Ground head="h3" where={where} />
          </section>
        );
      })}
    </>
  );
}
