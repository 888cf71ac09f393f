/** Where is the glass broken, from what an instrument reads at a port? */
import type { LocateAnswer, Spent } from "../../../core/locate/answer.ts";
import { cautionsSaid, LOCATE_ACTS } from "../../../core/standards/cautions.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import type { ViewProps } from "../view.ts";
import { Apart } from "./apart.tsx";
import { BandDrawing } from "./band.tsx";
import { BandLeaf } from "./band-leaf.tsx";
import { Beside, Ground, mendAddress, planAddress, recordsAt, Within } from "./place.tsx";
import { readingsOf } from "./readings.ts";
import "./locate.css";

export function Locate({ values }: ViewProps) {
  const { of = "" } = values;
  const asked = readingsOf(values);
  const answer = useAnswer("locate.of", typeof asked === "string" ? null : asked);
  if (typeof asked === "string") return <Page answer={asked} />;
  if (asked === null)
    return (
      <Page
        answer={say`Fill in the port and what the instrument shows.`}
        leaf={<Cautions cautions={cautionsSaid(LOCATE_ACTS)} />}
      >
        <div className="teach">
          <GhostLine />
          <p>
            {say`The answer names cable, sheath mark and the places beside the break, with a plus and minus of which each term is shown. The index is what the instrument was set to; where nobody noted it, the usual one stands in and the band is wider. A reading from the other end, or of another strand, and an event whose place is known make it narrower.`}
          </p>
        </div>
      </Page>
    );
  return answer.value ? (
    <Page {...told(answer.value)} />
  ) : (
    <Page>
      <Answered answer={answer} asked={of} word={say`Walking along the glass`}>
        {() => null}
      </Answered>
    </Page>
  );
}

function told(answer: LocateAnswer): PageProps {
  const { places, readings, ways, doubts, lacks, notes } = answer;
  const [first] = places;
  const one = places.length === 1 ? first : undefined;
  const mend = one && mendAddress(one);
  const plan = one && planAddress(one);
  return {
    answer: <Tagged text={answer.sentence} records={recordsOf(answer)} />,
    acts: (
      <>
        {plan ? (
          <a className="button" href={plan}>
            {say`On the plan`}
          </a>
        ) : null}
        {mend ? (
          <a className="button" href={mend}>
            {say`How is it mended?`}
          </a>
        ) : null}
      </>
    ),
    leaf: <BandLeaf answer={answer} />,
    children: (
      <>
        {one && one.where.between.length === 2 ? (
          <Region name="drawing" label={say`The band`} className="locate-drawing">
            <BandDrawing place={one} />
          </Region>
        ) : null}
        <Region name="ledger" label={say`Within the band`} className="locate-ledger">
          {one ? (
            <>
              <Beside head="h2" where={one.where} name={say`Beside the break`} />
              {one.candidates.length > 0 ? <Within head="h2" some={one.candidates} /> : null}
            </>
          ) : (
            <Apart answer={answer} />
          )}
          {ways.length > 0 ? (
            <section className="locate-part" aria-labelledby="locate-ways">
              <h2 id="locate-ways">{say`The glass forks: the same reading on each way`}</h2>
              <ul>
                {ways.map((way) => (
                  <li key={way.to}>{unbroken(say`to ${way.to}: ${way.where.words}`)}</li>
                ))}
              </ul>
            </section>
          ) : null}
          <Notes head={say`What contradicts`} words={doubts} mark />
          <Notes head={say`Not on record`} words={lacks} />
          <Notes head={say`What to mind`} words={notes} />
          {readings.map((reading) => (
            <SpentOn key={`${reading.from.tag} ${reading.words}`} from={reading.from.tag} spent={reading.spent} />
          ))}
          {one ? <Ground head="h2" where={one.where} /> : null}
        </Region>
      </>
    ),
  };
}

const recordsOf = ({ places, readings }: LocateAnswer) => [
  ...places.flatMap(recordsAt),
  ...readings.map(({ from }) => from),
];

function Notes({
  head,
  words,
  mark,
}: {
  readonly head: string;
  readonly words: readonly string[];
  readonly mark?: boolean;
}) {
  if (words.length === 0) return null;
  return (
    <section className="locate-part" aria-label={head}>
      <h2>{head}</h2>
      <ul>
        {words.map((one) => (
          <li key={one}>
            {mark ? <FindingMark shape="warning" /> : null} {one}
          </li>
        ))}
      </ul>
    </section>
  );
}

function SpentOn({ from, spent }: { readonly from: string; readonly spent: readonly Spent[] }) {
  const length = useLength();
  return (
    <details className="locate-part">
      <summary>{say`What the travel time from ${from} was spent on`}</summary>
      <table className="locate-table">
        <thead>
          <tr>
            <th>{say`part`}</th>
            <th className="figure">{say`length`}</th>
            <th className="figure">{say`glass`}</th>
            <th className="figure">{say`index`}</th>
            <th className="figure">{say`µs`}</th>
          </tr>
        </thead>
        <tbody>
          {numbered(spent).map(({ part, key }) => (
            <tr key={key}>
              <td>
                <Tagged text={part.words} records={[part.record]} />
              </td>
              <td className="figure">{length(part.length_m)}</td>
              <td className="figure">{length(part.glass_m)}</td>
              <td className="figure">{part.index.toFixed(4)}</td>
              <td className="figure">{part.time_us.toFixed(3)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

/** A part may come twice on one way. */
const numbered = (spent: readonly Spent[]) => spent.map((part, at) => ({ part, key: `${at + 1} ${part.words}` }));
