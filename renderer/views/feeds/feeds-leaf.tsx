/** Totals by state and cable, what all ways in share, and what is free by patching alone. */
import { Fragment } from "react";
import type { FeedsAnswer } from "../../../core/feeds/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { count } from "../../controls/figures.ts";
import { LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { STATES, StateWord } from "../../drawing/states.tsx";
import { addressOf } from "../../frame/router.ts";
import "./totals.css";

/** More cables than this stand below each other instead of side by side. */
const MOST_COLUMNS = 4;

export function FeedsLeaf({ answer }: { readonly answer: FeedsAnswer }) {
  const { cables, counts, total, free_to: free, single_points: single } = answer;
  const states = STATES.filter((state) => counts[state] > 0);
  const columns = cables.length <= MOST_COLUMNS ? cables : [];
  return (
    <>
      <LeafHead tag={<TagLink record={answer.subject} strong />}>{answer.name}</LeafHead>
      <table className="totals">
        <caption className="hush">{say`Strands by state`}</caption>
        <thead>
          <tr>
            <th>{say`strands`}</th>
            {columns.map(({ cable }) => (
              <th key={cable.id} className="figure">
                <TagLink record={cable} href={addressOf("cable", { of: cable.tag })} />
              </th>
            ))}
            <th className="figure">{say`all`}</th>
          </tr>
        </thead>
        <tbody>
          {states.map((state) => (
            <Fragment key={state}>
              <tr>
                <th scope="row">
                  <StateWord state={state} />
                </th>
                {columns.map(({ cable, counts: own }) => (
                  <td key={cable.id} className="figure">
                    {own[state] === 0 ? <span className="faint">·</span> : count(own[state])}
                  </td>
                ))}
                <td className="figure">
                  <b>{count(counts[state])}</b>
                </td>
              </tr>
              {state === "in_service" && answer.cut > 0 ? (
                <tr>
                  <th scope="row" className="totals-part">
                    <FindingMark shape="error" /> {say`of them cut`}
                  </th>
                  {columns.map(({ cable, cut }) => (
                    <td key={cable.id} className="figure">
                      {cut === 0 ? <span className="faint">·</span> : count(cut)}
                    </td>
                  ))}
                  <td className="figure">{count(answer.cut)}</td>
                </tr>
              ) : null}
            </Fragment>
          ))}
          <tr>
            <th scope="row">
              <b>{say`in all`}</b>
            </th>
            {columns.map(({ cable, strands }) => (
              <td key={cable.id} className="figure">
                <b>{count(strands.length)}</b>
              </td>
            ))}
            <td className="figure">
              <b>{count(total)}</b>
            </td>
          </tr>
        </tbody>
      </table>
      {columns.length === 0 && cables.length > 0 ? (
        <LeafPart title={say`By cable`}>
          <ul className="leaf-lines">
            {cables.map(({ cable, strands, counts: own }) => (
              <li key={`${cable.id}`}>
                <TagLink record={cable} href={addressOf("cable", { of: cable.tag })} />
                <span className="soft">{say`${count(strands.length)}, ${count(own.spare)} spare`}</span>
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      <LeafPart title={say`Entrances`}>
        <ul className="leaf-lines">
          {answer.entrances.map(({ place, cables: number, counts: own }) => (
            <li key={place.space?.id ?? 0}>
              {place.space ? <TagLink record={place.space} /> : say`place not known`}
              <span className="soft">{say`${counted(number, "cable", "cables")}, ${count(own.spare)} spare`}</span>
            </li>
          ))}
        </ul>
        {single.length > 0 ? (
          <p className="single">
            <FindingMark shape="warning" />
            <span>
              {say`Every way in shares`}{" "}
              {single.map((record, index) => (
                <span key={`${record.kind} ${record.id}`}>
                  {index > 0 ? ", " : ""}
                  <TagLink record={record} />
                </span>
              ))}
              {say`. Losing one of them cuts ${answer.name} off.`}
            </span>
          </p>
        ) : answer.entrances.length > 1 ? (
          <p className="soft single-none">{say`No single place or pathway on record is shared by all of them.`}</p>
        ) : null}
      </LeafPart>
      <LeafPart title={say`Free by patching alone`}>
        {free.length === 0 ? (
          <p className="soft">{say`No strand is free to another building without a new splice.`}</p>
        ) : (
          <ul className="leaf-lines">
            {free.map(({ building, name, strands }) => (
              <li key={building.id}>
                <span>
                  <TagLink record={building} href={addressOf("feeds", { of: building.tag })} />{" "}
                  <span className="soft">{name}</span>
                </span>
                <b>{count(strands)}</b>
              </li>
            ))}
          </ul>
        )}
      </LeafPart>
      {answer.cautions.length > 0 ? (
        <LeafPart>
          <Cautions cautions={answer.cautions} />
        </LeafPart>
      ) : null}
    </>
  );
}
