/** Does a cable belong where it lies? */

import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { LeafHead } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { GhostSheath } from "../../drawing/ghosts.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { Matrix } from "./matrix.tsx";
import { keyOf, VerdictPart, Verdicts } from "./verdicts.tsx";
import "./fitness.css";

export function Fitness({ values }: ViewProps) {
  const of = values.of ?? "";
  const at = values.where ?? "";
  const answer = useAnswer("fitness.of", of ? { what: of, ...(at ? { at } : {}) } : null);
  const told = answer.value;
  const sheet = useAnswer("cable.show", told ? { cable: told.cable.id } : null).value;
  if (!of) {
    return (
      <Page answer={say`Fill the blank with a cable's number, such as F-012.`}>
        <div className="teach">
          <GhostSheath />
          <p>
            {say`The cable held against every way and place it lies in: sun and water, fire marking and metres indoors, metal and bonding, coils, pipes, pulling and depth. Each verdict with its rule, its source and what to do.`}
          </p>
        </div>
      </Page>
    );
  }
  if (!told) {
    return (
      <Page>
        <Answered answer={answer} asked={of} word={say`Holding it against the rules`}>
          {() => null}
        </Answered>
      </Page>
    );
  }
  const selected = told.verdicts.find((one) => keyOf(one) === values.at) ?? told.verdicts[0] ?? null;
  const select = (key: string): void => goWith({ at: key }, { replace: true });
  return (
    <Page
      answer={<Tagged text={told.sentence} records={[told.cable, told.type, told.part]} />}
      acts={
        <a className="button" href={addressOf("cable", { of: told.cable.tag })}>
          {say`See it drawn`}
        </a>
      }
      leaf={
        <>
          <div className="leaf-cautions">
            <Cautions cautions={[told.caution]} />
          </div>
          {selected ? <VerdictPart one={selected} /> : null}
          <LeafHead tag={<TagLink record={told.cable} strong />}>
            {told.type ? sayWith`of type ${<TagLink record={told.type} />}` : say`its type is not on record`}
          </LeafHead>
        </>
      }
    >
      {sheet && told.verdicts.length > 0 ? (
        <Region name="drawing" label={say`Rule by rule, along the cable`} className="half-drawing">
          <Matrix verdicts={told.verdicts} sheet={sheet} selected={selected} onSelect={select} />
        </Region>
      ) : null}
      <Region name="ledger" label={say`Verdicts`} className="half-ledger">
        {told.verdicts.length > 0 ? (
          <Verdicts verdicts={told.verdicts} selected={selected} onSelect={select} />
        ) : (
          <p className="fitness-none">{say`Nothing to check it against: neither its type nor its course is on record.`}</p>
        )}
      </Region>
    </Page>
  );
}
