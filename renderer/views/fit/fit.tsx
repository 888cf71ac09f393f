/** Would a kind of cable fit a chain of ways, before it is bought; and how much of it is to be ordered? */
import { useMemo } from "react";
import type { WouldFitAnswer } from "../../../core/fitness/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { Lacks } from "../../controls/lacks.tsx";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { readMany } from "../../controls/many.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { GhostSheath } from "../../drawing/ghosts.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { keyOf, VerdictPart, Verdicts } from "../fitness/verdicts.tsx";
import type { ViewProps } from "../view.ts";
import { OrderBar, OrderTable } from "./order.tsx";
import "./fit.css";

export function Fit({ values }: ViewProps) {
  const type = values.type ?? "";
  const ways = values.ways ?? "";
  const way = useMemo(() => readMany(ways), [ways]);
  const asked = type !== "" && way.length > 0;
  const answer = useAnswer("fitness.would_fit", asked ? { way: [...way], cable_type: type } : null);
  if (!asked) {
    return (
      <Page
        answer={
          type === ""
            ? say`Fill the first blank with a data sheet on record, the second with the ways in order.`
            : say`Fill the second blank with the ways in order, from one end to the other.`
        }
      >
        <div className="teach">
          <GhostSheath />
          <p>
            {sayWith`Whether it may lie there, how full the pipes are afterwards, what pulling it takes in both directions, and the length to order with coils and waste. For the pipe that is to be used, name the pipe: ${<span className="tag">DB-04/2</span>}.`}
          </p>
        </div>
      </Page>
    );
  }
  const told = answer.value;
  if (!told) {
    return (
      <Page>
        <Answered answer={answer} asked={way.length === 1 ? ways : ""} word={say`Holding it against the ways`}>
          {() => null}
        </Answered>
      </Page>
    );
  }
  const selected = told.verdicts.find((one) => keyOf(one) === values.at) ?? told.verdicts[0] ?? null;
  return (
    <Page
      answer={<Tagged text={told.sentence} records={[told.type, ...told.ways]} />}
      leaf={
        <>
          <div className="leaf-cautions">
            <Cautions cautions={[told.caution]} />
          </div>
          {selected ? <VerdictPart one={selected} /> : null}
          <Rests told={told} titled={selected !== null} />
        </>
      }
    >
      <Region name="drawing" label={say`Length to order, drawn`} className="half-drawing fit-drawing">
        <OrderBar order={told.order} />
      </Region>
      <Region name="ledger" label={say`Verdicts and length to order`} className="half-ledger">
        <Verdicts verdicts={told.verdicts} selected={selected} onSelect={(at) => goWith({ at }, { replace: true })} />
        <OrderTable order={told.order} />
      </Region>
    </Page>
  );
}

function Rests({ told, titled }: { readonly told: WouldFitAnswer; readonly titled: boolean }) {
  const records = [told.type, ...told.ways];
  return (
    <>
      {titled ? null : <LeafHead tag={<TagLink record={told.type} strong />} />}
      <LeafPart>
        <ul className="fit-ways">
          <li>
            <TagLink record={told.type} strong /> <span className="soft">{say`data sheet`}</span>
          </li>
          {told.ways.map((way) => (
            <li key={`${way.kind} ${way.id}`}>
              <TagLink record={way} />
              <a className="link small" href={addressOf("pathway", { of: way.tag })}>
                {say`What lies in it?`}
              </a>
            </li>
          ))}
        </ul>
      </LeafPart>
      {told.unknown.length > 0 ? (
        <LeafPart title={say`Not on record, for all of it`}>
          <Lacks words={told.unknown} records={records} />
        </LeafPart>
      ) : null}
    </>
  );
}
