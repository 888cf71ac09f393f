/** Where is the glass broken, from what an instrument reads at a port? */
import type { Candidate, LocateAnswer, Spent } from "../../../core/locate/answer.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { decimal, useLength } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { BandDrawing } from "./band.tsx";
import { BandLeaf } from "./band-leaf.tsx";
import { readingsOf } from "./readings.ts";
import "./locate.css";

export function Locate({ values }: ViewProps) {
  const { of = "" } = values;
  const asked = readingsOf(values);
  const answer = useAnswer("locate.of", typeof asked === "string" ? null : asked);
  if (typeof asked === "string") return <Page answer={asked} />;
  if (asked === null)
    return (
      <Page answer="Fill in the port and what the instrument shows.">
        <div className="teach">
          <GhostLine />
          <p>
            The answer names cable, sheath mark and the places beside the break, with a plus and minus of which each
            term is shown. The index is what the instrument was set to; where nobody noted it, the usual one stands in
            and the band is wider. A reading from the other end, or of another strand, and an event whose place is known
            make it narrower.
          </p>
        </div>
      </Page>
    );
  return answer.value ? (
    <Page {...told(answer.value)} />
  ) : (
    <Page>
      <Answered answer={answer} asked={of} word="Walking along the glass">
        {() => null}
      </Answered>
    </Page>
  );
}

function told(answer: LocateAnswer): PageProps {
  const { where, candidates, readings, ways, doubts, lacks, notes } = answer;
  const mend = mendAddress(answer);
  return {
    answer: <Tagged text={answer.sentence} records={recordsOf(answer)} />,
    acts: mend ? (
      <a className="button" href={mend}>
        How is it mended?
      </a>
    ) : null,
    leaf: <BandLeaf answer={answer} />,
    children: (
      <>
        {where.between.length === 2 ? (
          <Region name="drawing" label="The band" className="locate-drawing">
            <BandDrawing answer={answer} />
          </Region>
        ) : null}
        <Region name="ledger" label="Within the band" className="locate-ledger">
          <Beside answer={answer} />
          {candidates.length > 0 ? <Within some={candidates} /> : null}
          {ways.length > 0 ? (
            <section className="locate-part" aria-labelledby="locate-ways">
              <h2 id="locate-ways">The glass forks: the same reading on each way</h2>
              <ul>
                {ways.map((way) => (
                  <li key={way.to}>
                    to {way.to}: {way.where.words}
                  </li>
                ))}
              </ul>
            </section>
          ) : null}
          <Notes head="What contradicts" words={doubts} mark />
          <Notes head="Not on record" words={lacks} />
          <Notes head="What to mind" words={notes} />
          {readings.map((reading) => (
            <SpentOn key={reading.from.tag} from={reading.from.tag} spent={reading.spent} />
          ))}
          {where.coordinate ? (
            <section className="locate-part" aria-labelledby="locate-ground">
              <h2 id="locate-ground">On the ground</h2>
              <p>
                {where.coordinate.latitude}, {where.coordinate.longitude}: {where.coordinate.words}
              </p>
            </section>
          ) : null}
        </Region>
      </>
    ),
  };
}

const recordsOf = ({ where, readings, candidates }: LocateAnswer) => [
  where.cable,
  where.place,
  where.record,
  ...where.ways,
  ...where.between.map(({ place }) => place),
  ...readings.map(({ from }) => from),
  ...candidates.map(({ record }) => record),
];

/** Only a break in a leg says between which places the cable is cut. */
function mendAddress({ where }: LocateAnswer): string | null {
  if (where.kind !== "leg" || !where.cable) return null;
  const [first] = where.between;
  return addressOf("mend", {
    of: where.cable.tag,
    ...(where.mark ? { mark: String(Math.round(where.mark.value)) } : first?.place ? { after: first.place.tag } : {}),
  });
}

function Beside({ answer: { where } }: { readonly answer: LocateAnswer }) {
  const length = useLength();
  if (!where.cable && where.between.length === 0) return null;
  return (
    <section className="locate-part" aria-labelledby="locate-where">
      <h2 id="locate-where">Beside the break</h2>
      <dl className="facts">
        <div>
          <dt>Sheath mark</dt>
          <dd>
            {where.mark
              ? `${decimal(where.mark.value, 0)} ${where.mark.unit ?? ""}${
                  where.mark.least === null || where.mark.most === null
                    ? ""
                    : `, likely ${decimal(where.mark.least, 0)} to ${decimal(where.mark.most, 0)}`
                }`
              : (where.mark_lacks ?? "not on record")}
          </dd>
        </div>
        {where.between.map((place) => (
          <div key={place.words}>
            <dt>{place.place ? <TagLink record={place.place} /> : place.words}</dt>
            <dd>
              {length(place.metres)} from its mouth{place.mark === null ? "" : `, mark ${decimal(place.mark, 0)} there`}
            </dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

function Within({ some }: { readonly some: readonly Candidate[] }) {
  const length = useLength();
  return (
    <section className="locate-part" aria-labelledby="locate-within">
      <h2 id="locate-within">Within the band: look at these first</h2>
      <table className="locate-table">
        <thead>
          <tr>
            <th>what</th>
            <th>where</th>
            <th className="figure">off</th>
            <th>how likely</th>
          </tr>
        </thead>
        <tbody>
          {some.map((one) => (
            <tr key={`${one.kind} ${one.record.kind} ${one.record.id} ${one.off_m}`}>
              <td>
                <Tagged text={one.words} records={[one.record]} />
              </td>
              <td>{one.place ? <TagLink record={one.place} /> : ""}</td>
              <td className="figure">{one.off_m === 0 ? "here" : length(one.off_m)}</td>
              <td>{one.likely ? "within the likely band" : "only within the bound"}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

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
      <summary>What the travel time from {from} was spent on</summary>
      <table className="locate-table">
        <thead>
          <tr>
            <th>part</th>
            <th className="figure">length</th>
            <th className="figure">glass</th>
            <th className="figure">index</th>
            <th className="figure">µs</th>
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
