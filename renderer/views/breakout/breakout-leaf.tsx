/** Beside the sets: the cautions, the loop and the lateral, and what all of it is reckoned by. */
import type { BreakoutAnswer } from "../../../core/breakout/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { count, useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafPart } from "../../controls/leaf.tsx";
import { ReckonedBy } from "../../controls/reckoned-by.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";

const percent = (part: number): string => `${Math.round(part * 100)}\u202f%`;

export function BreakoutLeaf({ answer }: { readonly answer: BreakoutAnswer }) {
  const length = useLength();
  const { lateral, cut, free, not_free, assumed, limits } = answer;
  return (
    <>
      <Cautions cautions={answer.cautions} />
      <LeafPart title={say`The cut`}>
        <p>{unbroken(cut.words)}</p>
        {cut.marks ? (
          <p className="small faint">
            {say`The window lies between marks ${cut.marks.from} and ${cut.marks.to} ${cut.marks.unit}, worked out from what is read at the mouths.`}
          </p>
        ) : null}
      </LeafPart>
      {answer.loop.stuck.length > 0 ? (
        <LeafPart title={say`What can't be pulled`}>
          {answer.loop.stuck.map((words) => (
            <p key={words}>{unbroken(words)}</p>
          ))}
        </LeafPart>
      ) : null}
      <LeafPart title={say`The lateral`}>
        <Facts>
          <Fact name={say`Number`}>{lateral.tag}</Fact>
          <Fact name={say`Strands`}>{say`${count(lateral.used)} of ${count(lateral.strands)}`}</Fact>
          <Fact name={say`Type`}>{lateral.type ? <TagLink record={lateral.type} /> : say`not chosen`}</Fact>
          <Fact name={say`From stock`}>
            {lateral.reel ? <TagLink record={lateral.reel} /> : say`none known to do`}
            {lateral.reel || lateral.stock.length === 0 ? null : (
              <>
                {say`; may do: `}
                {lateral.stock.map((reel, index) => (
                  <span key={reel.id}>
                    {index > 0 ? ", " : ""}
                    <TagLink record={reel} />
                  </span>
                ))}
              </>
            )}
          </Fact>
          <Fact name={say`Fibre`}>{lateral.fibre ?? say`not known`}</Fact>
          <Fact name={say`To`}>{lateral.to ? <TagLink record={lateral.to} /> : say`nobody named`}</Fact>
          <Fact name={say`Through`}>
            {lateral.pathways.length === 0
              ? say`not on record`
              : lateral.pipes.map(({ pathway, pipe, fill, fill_limit, takes_mm }, index) => (
                  <span key={pathway.id}>
                    {index > 0 ? ", " : ""}
                    <TagLink record={pipe ?? pathway} />
                    {fill === null
                      ? takes_mm === null
                        ? ""
                        : say` (takes up to ${takes_mm}\u202fmm)`
                      : say` (${percent(fill)} full then${fill_limit === null ? "" : say`, of ${percent(fill_limit)}`})`}
                  </span>
                ))}
          </Fact>
          <Fact name={say`Way`}>{lateral.way_m === null ? say`not known` : length(lateral.way_m)}</Fact>
          <Fact name={say`Both ends`}>{say`${length(lateral.near_m)} and ${length(lateral.far_m)}`}</Fact>
          <Fact name={say`Length`}>{lateral.length_m === null ? say`not known` : length(lateral.length_m)}</Fact>
          <Fact name={say`To cut off`}>
            {lateral.order_m === null
              ? say`not known`
              : say`${length(lateral.order_m)}, with ${Math.round(lateral.waste * 100)} % for waste`}
          </Fact>
        </Facts>
        <p className="small soft">{unbroken(lateral.stock_words)}</p>
      </LeafPart>
      {lateral.landing ? (
        <LeafPart title={say`Landed there`}>
          <Facts>
            <Fact name={say`Panel`}>
              {lateral.landing.panel ? (
                <TagLink record={lateral.landing.panel} />
              ) : (
                sayWith`${<span className="tag">{lateral.landing.tag}</span>}, new`
              )}
            </Fact>
            <Fact name={say`Positions`}>
              <span className="tag">{lateral.landing.ports}</span>
            </Fact>
            <Fact name={say`With`}>{lateral.landing.method_words}</Fact>
            {lateral.landing.drawer ? (
              <Fact name={say`Splice tray`}>
                <span className="tag">{lateral.landing.drawer}</span>
              </Fact>
            ) : null}
          </Facts>
          {lateral.landing.passed_over.map(({ panel, reason }) => (
            <p key={panel.id} className="small soft">
              {sayWith`${<TagLink record={panel} />} won't do: it ${unbroken(reason)}.`}
            </p>
          ))}
        </LeafPart>
      ) : null}
      <LeafPart title={say`Its strands here`}>
        {answer.ribbon ? <p>{unbroken(answer.ribbon.words)}</p> : null}
        <ul className="leaf-list">
          <li>
            <span>{sayWith`${<b>{count(free)}</b>} can be taken`}</span>
          </li>
          {not_free.map(({ reason, count: some }) => (
            <li key={reason}>
              <span>
                <b>{count(some)}</b> {unbroken(reason)}
              </span>
            </li>
          ))}
        </ul>
      </LeafPart>
      <ReckonedBy limits={limits} assumed={assumed} />
    </>
  );
}
