/** The reverse: which strands cut at a place are joined again, what leads nowhere afterwards, and what goes down. */
import type { ClosingAnswer, ClosingStrand } from "../../../core/breakout/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { Lacks } from "../../controls/lacks.tsx";
import { LeafPart } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { Steps } from "./set-detail.tsx";
import { WhereOpened } from "./where-opened.tsx";
import "./breakout.css";

export function Closing({ values }: ViewProps) {
  const { of = "", place = "", strands } = values;
  const answer = useAnswer(
    "breakout.closing",
    of && place ? { cable: of, at: place, ...(strands?.trim() ? { strands } : {}) } : null,
  );
  if (!of || !place)
    return (
      <Page answer={say`Name the cable, and the place where it is opened.`}>
        <WhereOpened of={of} place={place} path="breakout-close" />
      </Page>
    );
  return answer.value ? (
    <Page {...told(answer.value, place, strands)} />
  ) : (
    <Page>
      <Answered
        answer={answer}
        word={say`Planning`}
        {...(answer.error?.code === "not_found" ? { asked: answer.error.problems[0]?.record ?? of } : {})}
      >
        {() => null}
      </Answered>
    </Page>
  );
}

/** @param at as it was named, for a place says more than the number of a stop */
function told(answer: ClosingAnswer, at: string, asked: string | undefined): PageProps {
  const { cable, place, laterals, circuits, strands, steps, to_prove } = answer;
  return {
    answer: (
      <Tagged
        text={answer.sentence}
        records={[cable, place, ...laterals.map((one) => one.cable), ...circuits.map(({ circuit }) => circuit)]}
      />
    ),
    acts:
      steps.length > 0 ? (
        <a
          className="button"
          href={addressOf("acts", {
            ...{ do: "job.plan_closing", cable: cable.tag, at },
            ...(asked?.trim() ? { strands: asked } : {}),
          })}
        >
          {say`As a job`}
        </a>
      ) : null,
    leaf: (
      <>
        <Cautions cautions={answer.cautions} />
        {circuits.length > 0 ? (
          <LeafPart title={say`Goes down`}>
            <ul className="leaf-list">
              {circuits.map(({ circuit, priority }) => (
                <li key={circuit.id}>
                  <span>
                    <FindingMark shape="caution" /> <TagLink record={circuit} />
                    {priority === null ? "" : say`, priority ${priority}`}
                  </span>
                </li>
              ))}
            </ul>
          </LeafPart>
        ) : null}
        {laterals.length > 0 ? (
          <LeafPart title={say`Parted from it`}>
            <ul className="leaf-list">
              {laterals.map((one) => (
                <li key={one.cable.id}>
                  <span>
                    <TagLink record={one.cable} />:{" "}
                    {one.whole ? say`leads nowhere afterwards` : say`freed of ${one.strands}`}
                  </span>
                </li>
              ))}
            </ul>
          </LeafPart>
        ) : null}
      </>
    ),
    children: (
      <Region name="ledger" label={say`Strands joined again`} className="mend-ledger">
        <section className="locate-part" aria-labelledby="closing-strands">
          <h2 id="closing-strands">{say`Strands that are cut there`}</h2>
          <Strands strands={strands} />
        </section>
        {to_prove.length > 0 ? (
          <section className="locate-part" aria-labelledby="closing-prove">
            <h2 id="closing-prove">{say`To be proved first`}</h2>
            <Lacks words={to_prove} />
          </section>
        ) : null}
        {steps.length > 0 ? (
          <section className="locate-part" aria-labelledby="closing-steps">
            <h2 id="closing-steps">{say`Steps`}</h2>
            <Steps steps={steps} />
          </section>
        ) : null}
      </Region>
    ),
  };
}

const Strands = ({ strands }: { readonly strands: readonly ClosingStrand[] }) => (
  <table className="locate-table breakout-splices">
    <thead>
      <tr>
        <th scope="col">{say`strand`}</th>
        <th scope="col">{say`its colours`}</th>
        <th scope="col">{say`towards its first stop`}</th>
        <th scope="col">{say`towards its last stop`}</th>
        <th scope="col">{say`joined again`}</th>
      </tr>
    </thead>
    <tbody>
      {strands.map(({ strand, a, z, refused }) => (
        <tr key={strand.number}>
          <td>{strand.record ? <TagLink record={strand.record} /> : strand.tag}</td>
          <td>
            <Swatch colours={strand.colours} /> {strand.words}
          </td>
          <td>{unbroken(a)}</td>
          <td>{unbroken(z)}</td>
          <td>{refused === null ? say`yes` : sayWith`${<FindingMark shape="gap" />} no: ${unbroken(refused)}`}</td>
        </tr>
      ))}
    </tbody>
  </table>
);
