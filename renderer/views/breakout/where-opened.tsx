/** Before cable and place are named: what will be told, the places on the cable's way, or the cables of the place. */

import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { count, useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { GhostSheath } from "../../drawing/ghosts.tsx";
import { addressOf } from "../../frame/router.ts";

export interface WhereOpenedProps {
  readonly of: string;
  readonly place: string;
  readonly path: "breakout" | "breakout-close";
}

export function WhereOpened({ of, place: named, path }: WhereOpenedProps) {
  const sheet = useAnswer("cable.show", of ? { cable: of } : null).value;
  const length = useLength();
  const all = sheet?.stops.slice(1, -1) ?? [];
  const stops = path === "breakout" ? all : all.filter(({ cut }) => cut > 0);
  const names = stops.map(({ record, place }) => place.space?.tag ?? record.tag);
  return (
    <div className="teach">
      <GhostSheath />
      <p>
        {path === "breakout"
          ? say`Whether the loop comes out of the hole, which free strands lie in which tubes and what shines beside them, where the cut is made and what that leaves on each side, and each splice with the colours of both sides.`
          : say`Which strands can be joined again, what lateral goes out of use, and which circuits go down.`}
      </p>
      {of === "" && named !== "" ? <CablesThere place={named} path={path} /> : null}
      {sheet ? (
        stops.length > 0 ? (
          <ul className="teach-ways">
            {stops.map((stop, index) => {
              // A place may be passed twice; the stop itself never is.
              const once = names.filter((name) => name === names[index]).length === 1;
              return (
                <li key={stop.record.id}>
                  <a
                    className="link"
                    href={addressOf(path, { of, place: (once ? names[index] : stop.record.tag) ?? "" })}
                  >
                    {sayWith`at ${names[index]}`}
                  </a>{" "}
                  <span className="soft">
                    {stop.kind === "passing" ? "" : `${stop.kind}, `}
                    {stop.cut > 0 ? say`${counted(stop.cut, "strand")} cut, ` : ""}
                    {stop.inside_m === null
                      ? say`what lies there is not known`
                      : say`${length(stop.inside_m)} of it lie there`}
                  </span>
                </li>
              );
            })}
          </ul>
        ) : (
          <p>
            {sheet.cable.tag}{" "}
            {path === "breakout" ? say`passes no place on record.` : say`is cut at no place on record.`}
          </p>
        )
      ) : null}
    </div>
  );
}

/** The cables that come to a place, where the place is all that was said. */
function CablesThere({ place, path }: Omit<WhereOpenedProps, "of">) {
  const feeds = useAnswer("feeds.of", { what: place }).value;
  if (!feeds) return null;
  if (feeds.cables.length === 0) return <p>{say`No cable comes to ${place} on record.`}</p>;
  return (
    <ul className="teach-ways">
      {feeds.cables.map(({ cable, express, strands }) => (
        <li key={cable.id}>
          <a className="link" href={addressOf(path, { of: cable.tag, place })}>
            {cable.tag}
          </a>{" "}
          <span className="soft">
            {plural(
              express,
              "{0} strand runs through there, {1} end there",
              "{0} strands run through there, {1} end there",
              count(strands.length),
            )}
          </span>
        </li>
      ))}
    </ul>
  );
}
