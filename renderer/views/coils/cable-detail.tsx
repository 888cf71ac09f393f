/** The cable pointed at: each stretch with why and what cures it, and the coils it would have to hold. */
import type { CoilsCable, CoilsCure, CoilsStretch } from "../../../core/repair/coils/answer.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { count, useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { addressOf } from "../../frame/router.ts";
import { StateMark } from "./line-drawing.tsx";

const STATES: Readonly<Record<CoilsStretch["state"], string>> = {
  lacks: say`not from coils`,
  to_prove: say`to prove`,
  untold: say`can't be told`,
};

export function CableDetail({ cable: own }: { readonly cable: CoilsCable }) {
  const length = useLength();
  const { cable, stretches, mark_unit, cure, cure_once_proven, parts, parts_untold } = own;
  return (
    <>
      <section className="coils-part" aria-labelledby="coils-stretches">
        <h2 id="coils-stretches">{say`${cable.tag}, stretch by stretch`}</h2>
        {parts > 1 ? (
          <p>
            {say`It lies in ${count(parts)} parts with a gap between; each is studied by itself.`}
            {parts_untold.map((reason) => (
              <span key={reason}>{say` Of one it can't be told: ${reason}.`}</span>
            ))}
          </p>
        ) : null}
        <table className="coils-table">
          <thead>
            <tr>
              <th scope="col">{say`from`}</th>
              <th scope="col">{say`to`}</th>
              <th scope="col">{say`marks`}</th>
              <th scope="col" className="figure">
                {say`length`}
              </th>
              <th scope="col">{say`state`}</th>
              <th scope="col" className="figure">
                {say`circuits`}
              </th>
              <th scope="col">{say`because`}</th>
              <th scope="col">{say`what cures it`}</th>
              <th scope="col">{say`cut here`}</th>
            </tr>
          </thead>
          <tbody>
            {stretches.map((one) => (
              <tr key={one.from.at_m}>
                {within(one) ? (
                  <td colSpan={2}>{sayWith`inside ${<Spot of={one.from} />}`}</td>
                ) : (
                  <>
                    <td>
                      <Spot of={one.from} />
                    </td>
                    <td>
                      <Spot of={one.to} />
                    </td>
                  </>
                )}
                <td className="figure">
                  {one.from.mark === null && one.to.mark === null ? (
                    <span className="faint">{say`not on record`}</span>
                  ) : (
                    say`${one.from.mark ?? "?"} to ${one.to.mark ?? "?"} ${mark_unit ?? ""}`
                  )}
                </td>
                <td className="figure">{length(one.length_m)}</td>
                <td className="coils-state">
                  <StateMark state={one.state} /> {STATES[one.state]}
                </td>
                <td className="figure">{count(one.circuits.length)}</td>
                <td>{unbroken(one.why)}</td>
                <td>{unbroken(one.cure)}</td>
                <td>
                  <a
                    className="link"
                    href={addressOf("mend", {
                      of: cable.tag,
                      after: one.cut.after,
                      mark: one.cut.mark === null ? null : String(one.cut.mark),
                    })}
                    aria-label={say`how mended? ${cable.tag}, cut between ${one.from.words} and ${one.to.words}`}
                  >
                    {say`how mended?`}
                  </a>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <section className="coils-part" aria-labelledby="coils-cure">
        <h2 id="coils-cure">{say`What would cure ${cable.tag}`}</h2>
        <Cure cure={cure} />
        {cure_once_proven ? (
          <>
            <p>
              {say`Once it is proven that it slides ${cure_once_proven.to_prove.join(", ")}, so that less is left open or less coil is needed:`}
            </p>
            <Cure cure={cure_once_proven} />
          </>
        ) : null}
      </section>
    </>
  );
}

/** From one mouth of a place to its other: the way through it. */
const within = ({ from, to }: CoilsStretch): boolean =>
  from.stop.id === to.stop.id && from.beyond_m < 0.05 && to.beyond_m < 0.05;

function Spot({ of: { place, stop, beyond_m } }: { readonly of: CoilsStretch["from"] }) {
  const length = useLength();
  return (
    <>
      {beyond_m < 0.05 ? "" : say`${length(beyond_m)} beyond `}
      <TagLink record={place ?? stop} />
    </>
  );
}

function Cure({ cure: { coils, more_m, exact, left_open_m, nearly } }: { readonly cure: CoilsCure }) {
  const length = useLength();
  return (
    <ul className="coils-cure">
      {coils.map(({ stop, place, holds_m, most_m, more_m: own_m }) => (
        <li key={stop.id}>
          {sayWith`${<TagLink record={place ?? stop} />} would hold ${<b>{length(own_m)}</b>} more (now ${holds_m === null ? say`not known, taken as none` : length(holds_m)}`}
          {most_m === null ? "" : say`; it is to hold ${length(most_m)} at most`})
        </li>
      ))}
      <li>
        {coils.length === 0
          ? say`No coil more. `
          : plural(
              coils.length,
              "{0} coil, {1} in all; {2} ",
              "{0} coils, {1} in all; {2} ",
              length(more_m),
              exact
                ? say`no fewer coils would do, and no fewer metres in so many.`
                : say`the least found: it is not proven that fewer would not do.`,
            )}
        {left_open_m > 0
          ? say`${length(left_open_m)} of way stay open: no coil that these places are to hold cures them.`
          : say`Then nothing of the way is open that can be told.`}
      </li>
      {nearly ? <li>{unbroken(nearly.words)}</li> : null}
    </ul>
  );
}
