/** How many separate ways lead into a building, or into each; and the single things whose loss cuts it off. */
import { useMemo } from "react";
import type { WaysInAnswer } from "../../../core/impact/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { EachBuilding, tooFew } from "./each-building.tsx";
import { OneBuilding } from "./one-building.tsx";
import { WaysLeaf } from "./ways-leaf.tsx";
import "./ways.css";

export function Ways({ values }: ViewProps) {
  const of = values.of ?? "";
  const answer = useAnswer("impact.ways_in", of ? { buildings: [of] } : {});
  const told = answer.value;
  // Those with fewer than wanted first.
  const buildings = useMemo(
    () => (told?.buildings ?? []).toSorted((one, other) => Number(tooFew(other)) - Number(tooFew(one))),
    [told],
  );
  const [only] = buildings;
  const selected = of
    ? (only ?? null)
    : (buildings.find(({ building }) => String(building.id) === values.at) ?? only ?? null);
  return (
    <Page
      answer={told ? <Told answer={told} /> : undefined}
      acts={
        only && of ? (
          <a className="button" href={addressOf("feeds", { of: only.building.tag })}>
            {say`What feeds it?`}
          </a>
        ) : null
      }
      leaf={selected ? <WaysLeaf one={selected} alone={of !== ""} /> : undefined}
    >
      {!told ? (
        <Answered answer={answer} asked={of} word={say`Looking for separate ways`}>
          {() => null}
        </Answered>
      ) : of && only ? (
        <OneBuilding one={only} />
      ) : (
        <Region name="ledger" label={say`Buildings`} className="half-ledger ways-ledger">
          <EachBuilding
            buildings={buildings}
            selected={selected}
            onSelect={(at) => goWith({ at }, { replace: true })}
            onOpen={({ building }) => go("ways", { of: building.tag })}
          />
        </Region>
      )}
    </Page>
  );
}

function Told({ answer }: { readonly answer: WaysInAnswer }) {
  const [first, ...others] = answer.buildings;
  if (!first || others.length > 0) return answer.sentence;
  return (
    <Tagged
      text={answer.sentence}
      records={[first.building, ...first.single_points, ...(first.single_points_today ?? [])]}
    />
  );
}
