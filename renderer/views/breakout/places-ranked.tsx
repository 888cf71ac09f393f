/** A cable named and no place yet: the places on its way, the one that fits best first. */
import type { BreakoutPlace, BreakoutPlaces } from "../../../core/breakout/places.ts";
import type { InputOf } from "../../../core/operations/list.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { count, useLength } from "../../controls/figures.ts";
import { Heads } from "../../controls/heads.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { addressOf } from "../../frame/router.ts";
import { FitTold } from "./fit-told.tsx";

export interface PlacesRankedProps {
  readonly asked: InputOf<"breakout.places">;
  readonly values: Readonly<Record<string, string>>;
}

export function PlacesRanked({ asked, values }: PlacesRankedProps) {
  const answer = useAnswer("breakout.places", asked);
  return (
    <Answered answer={answer} word={say`Comparing places`}>
      {(found) => <Ranked found={found} asked={asked} values={values} />}
    </Answered>
  );
}

function Ranked({
  found: { cable, places, refused, sentence },
  asked,
  values,
}: PlacesRankedProps & { readonly found: BreakoutPlaces }) {
  const length = useLength();
  // A place may be passed twice; the stop itself never is.
  const named = ({ place, stop }: BreakoutPlace): string =>
    places.filter((one) => one.place.id === place.id).length === 1 ? place.tag : stop.tag;
  return (
    <section className="locate-part" aria-labelledby="breakout-places">
      <h2 id="breakout-places">{say`Places on its way, the best first`}</h2>
      <p>
        <Tagged text={sentence} records={[cable, ...places.map(({ place }) => place)]} />
      </p>
      {places.length > 0 ? (
        <table className="mend-losses">
          <Heads
            of={[say`place`, say`fits`, say`strands`, say`circuits at risk`, say`pulled`, say`lateral, cut off`]}
          />
          <tbody>
            {places.map((one) => (
              <tr key={one.stop.id}>
                <th scope="row">
                  <a className="link" href={addressOf("breakout", { ...values, place: named(one) })}>
                    {unbroken(say`at ${named(one)}`)}
                  </a>
                </th>
                <td>
                  <FitTold of={one.fit} />
                </td>
                <td>
                  <span className="tag">{one.strands}</span>
                </td>
                <td>{one.at_risk === 0 ? <span className="faint">{say`none`}</span> : count(one.at_risk)}</td>
                <td>{one.pulled_m === 0 ? <span className="faint">{say`none`}</span> : length(one.pulled_m)}</td>
                <td>{one.order_m === null ? (asked.to ? say`not known` : say`nobody named`) : length(one.order_m)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      ) : null}
      {refused.length > 0 ? (
        <ul>
          {refused.map(({ stop, name, reason }) => (
            <li key={stop.id}>
              {unbroken(name)}: {unbroken(reason)}
            </li>
          ))}
        </ul>
      ) : null}
    </section>
  );
}
