/** Beside the sets: the cautions, the loop and the lateral, and what all of it is reckoned by. */
import type { BreakoutAnswer } from "../../../core/breakout/answer.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { count, useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";

const percent = (part: number): string => `${Math.round(part * 100)}\u2009%`;

export function BreakoutLeaf({ answer }: { readonly answer: BreakoutAnswer }) {
  const length = useLength();
  const { lateral, cut, free, not_free, assumed, limits } = answer;
  return (
    <>
      <Cautions cautions={answer.cautions} />
      <LeafPart title="The cut">
        <p>{cut.words}</p>
        {cut.marks ? (
          <p className="small faint">
            The window lies between marks {cut.marks.from} and {cut.marks.to} {cut.marks.unit}, worked out from what is
            read at the mouths.
          </p>
        ) : null}
      </LeafPart>
      {answer.loop.stuck.length > 0 ? (
        <LeafPart title="What can't be pulled">
          {answer.loop.stuck.map((words) => (
            <p key={words}>{words}</p>
          ))}
        </LeafPart>
      ) : null}
      <LeafPart title="The lateral">
        <Facts>
          <Fact name="Number">{lateral.tag}</Fact>
          <Fact name="Strands">
            {count(lateral.used)} of {count(lateral.strands)}
          </Fact>
          <Fact name="Type">{lateral.type ? <TagLink record={lateral.type} /> : "not chosen"}</Fact>
          <Fact name="From stock">
            {lateral.reel ? <TagLink record={lateral.reel} /> : "none known to do"}
            {lateral.reel || lateral.stock.length === 0 ? null : (
              <>
                {"; may do: "}
                {lateral.stock.map((reel, index) => (
                  <span key={reel.id}>
                    {index > 0 ? ", " : ""}
                    <TagLink record={reel} />
                  </span>
                ))}
              </>
            )}
          </Fact>
          <Fact name="Fibre">{lateral.fibre ?? "not known"}</Fact>
          <Fact name="To">{lateral.to ? <TagLink record={lateral.to} /> : "nobody named"}</Fact>
          <Fact name="Through">
            {lateral.pathways.length === 0
              ? "not on record"
              : lateral.pipes.map(({ pathway, pipe, fill, fill_limit, takes_mm }, index) => (
                  <span key={pathway.id}>
                    {index > 0 ? ", " : ""}
                    <TagLink record={pipe ?? pathway} />
                    {fill === null
                      ? takes_mm === null
                        ? ""
                        : ` (takes up to ${takes_mm}\u2009mm)`
                      : ` (${percent(fill)} full then${fill_limit === null ? "" : `, of ${percent(fill_limit)}`})`}
                  </span>
                ))}
          </Fact>
          <Fact name="Way">{lateral.way_m === null ? "not known" : length(lateral.way_m)}</Fact>
          <Fact name="Both ends">
            {length(lateral.near_m)} and {length(lateral.far_m)}
          </Fact>
          <Fact name="Length">{lateral.length_m === null ? "not known" : length(lateral.length_m)}</Fact>
          <Fact name="To cut off">
            {lateral.order_m === null
              ? "not known"
              : `${length(lateral.order_m)}, with ${Math.round(lateral.waste * 100)} % for waste`}
          </Fact>
        </Facts>
        <p className="small soft">{lateral.stock_words}</p>
      </LeafPart>
      {lateral.landing ? (
        <LeafPart title="Landed there">
          <Facts>
            <Fact name="Panel">
              {lateral.landing.panel ? (
                <TagLink record={lateral.landing.panel} />
              ) : (
                <>
                  <span className="tag">{lateral.landing.tag}</span>, new
                </>
              )}
            </Fact>
            <Fact name="Positions">
              <span className="tag">{lateral.landing.ports}</span>
            </Fact>
            <Fact name="With">{lateral.landing.method_words}</Fact>
            {lateral.landing.drawer ? (
              <Fact name="Splice tray">
                <span className="tag">{lateral.landing.drawer}</span>
              </Fact>
            ) : null}
          </Facts>
          {lateral.landing.passed_over.map(({ panel, reason }) => (
            <p key={panel.id} className="small soft">
              <TagLink record={panel} /> won't do: it {reason}.
            </p>
          ))}
        </LeafPart>
      ) : null}
      <LeafPart title="Its strands here">
        {answer.ribbon ? <p>{answer.ribbon.words}</p> : null}
        <ul className="leaf-list">
          <li>
            <span>
              <b>{count(free)}</b> can be taken
            </span>
          </li>
          {not_free.map(({ reason, count: some }) => (
            <li key={reason}>
              <span>
                <b>{count(some)}</b> {reason}
              </span>
            </li>
          ))}
        </ul>
      </LeafPart>
      <LeafPart title="Reckoned by">
        <ul className="leaf-list">
          {limits.map((limit) => (
            <li key={limit.tag}>
              <span>
                {limit.meaning ?? limit.tag}: <b>{limit.unit === "m" ? length(limit.value) : limit.value}</b>
              </span>
              <span className="small faint">{limit.source}</span>
            </li>
          ))}
        </ul>
        {assumed.map((words) => (
          <p key={words} className="small">
            Taken for granted: {words}
          </p>
        ))}
      </LeafPart>
    </>
  );
}
