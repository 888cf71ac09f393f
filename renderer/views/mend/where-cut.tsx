/** Before a cut has a place: what will be told, and the stretches of the cable in which it may lie. */

import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { GhostSheath } from "../../drawing/ghosts.tsx";
import { addressOf } from "../../frame/router.ts";

export function WhereCut({ of }: { readonly of: string }) {
  const sheet = useAnswer("cable.show", of ? { cable: of } : null).value;
  const length = useLength();
  const names = sheet?.stops.map(({ record, place }) => place.space?.tag ?? record.tag) ?? [];
  /** A place may be passed twice; the stop itself never is. */
  const at = (index: number): string => {
    const once = names.filter((name) => name === names[index]).length === 1;
    return (once ? names[index] : sheet?.stops[index]?.record.tag) ?? "";
  };
  return (
    <div className="teach">
      <GhostSheath />
      <p>
        {say`Every way to mend it is told, the least first: one splice over coils that can be pulled, two with a piece of new cable between, or a new cable; with what is pulled, what stays, and what nobody has proven.`}
      </p>
      {of ? null : (
        <>
          <p>
            {say`Somebody cut a duct between two holes? Name the two holes and no cable, or the pathway or the pipe: every cable there is told, the one with the most at stake first.`}
          </p>
          <p>
            {sayWith`An instrument showed how far the break is? ${<a className="link" href={addressOf("locate", {})}>{say`Begin with its reading`}</a>}: its answer leads back to here.`}
          </p>
        </>
      )}
      {sheet && sheet.legs.length > 0 ? (
        <>
          <p>{say`No mark was read? Then say between which places ${sheet.cable.tag} is cut.`}</p>
          <ul className="teach-ways">
            {sheet.legs.map((leg, index) => {
              return (
                <li key={sheet.stops[index]?.record.id ?? index}>
                  <a className="link" href={addressOf("mend", { of, after: at(index), until: at(index + 1) })}>
                    {sayWith`between ${names[index]} and ${names[index + 1]}`}
                  </a>{" "}
                  <span className="soft">{leg.length_m === null ? say`length not known` : length(leg.length_m)}</span>
                </li>
              );
            })}
          </ul>
        </>
      ) : null}
    </div>
  );
}
