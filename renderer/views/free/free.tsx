/** Which strands are free from one place to another, and what is to be made for each way there is? */
import type { FreePairAnswer, FreeWay, SeparateRoute } from "../../../core/free-pair/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { count, useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { goWith } from "../../frame/router.ts";
import { decibels, verdictWords } from "../loss/words.ts";
import type { ViewProps } from "../view.ts";
import { WayLeaf } from "./way-leaf.tsx";
import "./free.css";
import { counted, plural } from "../../../core/words/counted.ts";

const STRANDS = 2;

export function Free({ values }: ViewProps) {
  const { from = "", to = "", avoid, routes } = values;
  const application = values.for;
  const strands = values.strands ? Number(values.strands) : STRANDS;
  const can = Number.isInteger(strands) && strands >= 1 && strands <= 144;
  const answer = useAnswer(
    "free_pair.find",
    from && to && can
      ? {
          from,
          to,
          strands,
          ...(avoid ? { avoid } : {}),
          ...(routes === "separate" ? { separate: true } : {}),
          ...(application ? { application } : {}),
          most: 10,
        }
      : null,
  );
  if (!can) return <Page answer={say`${values.strands} is not a number of strands: write one from 1 to 144.`} />;
  if (!from || !to)
    return (
      <Page answer={say`Fill both blanks: buildings, rooms, panels or ports.`}>
        <div className="teach">
          <GhostLine />
          <p>
            {say`Each way is told with what is to be spliced or patched for it, how long it is, and what light would lose along it. One may be planned as records, and undone.`}
          </p>
        </div>
      </Page>
    );
  return answer.value ? (
    <Page {...told(answer.value, values)} />
  ) : (
    <Page>
      <Answered
        answer={answer}
        word={say`Looking for free glass`}
        {...(answer.error?.code === "not_found" ? { asked: answer.error.problems[0]?.record ?? from } : {})}
      >
        {() => null}
      </Answered>
    </Page>
  );
}

interface Numbered extends FreeWay {
  readonly number: number;
}

const Length = ({ way }: { readonly way: Pick<FreeWay, "length_m" | "lacks"> }) => {
  const length = useLength();
  return way.length_m === null ? (
    <span className="faint" title={way.lacks.join("; ")}>
      {say`not known`}
    </span>
  ) : (
    length(way.length_m, 0)
  );
};

const COLUMNS: readonly WalkedColumn<Numbered>[] = [
  { key: "number", head: say`way`, className: "figure", show: ({ number }) => number },
  {
    key: "over",
    head: say`over`,
    show: ({ stretches }) => (
      <span className="free-over">
        {stretches
          .flatMap(({ cables }) => cables)
          // A way may come back to a cable it has left.
          .map((cable, index) => ({ cable, key: `${index} ${cable.id}` }))
          .map(({ cable, key }) => (
            <TagLink key={key} record={cable} />
          ))}
      </span>
    ),
  },
  { key: "splices", head: say`splices`, className: "figure", show: ({ splices }) => count(splices) },
  { key: "cords", head: say`cords`, className: "figure", show: ({ cords }) => count(cords) },
  { key: "neighbours", head: say`neighbours`, show: ({ adjacent }) => (adjacent ? say`yes` : say`no`) },
  { key: "length", head: say`length`, className: "figure", show: (way) => <Length way={way} /> },
  { key: "loss", head: say`loss at worst`, className: "figure", show: ({ loss }) => <Loss loss={loss} /> },
];

function Loss({ loss }: { readonly loss: FreeWay["loss"] }) {
  const first = loss?.wavelengths[0];
  if (!first || first.worst_loss_db === null) return <span className="faint">{say`not known`}</span>;
  const verdict = loss?.application;
  return (
    <>
      {verdict && verdict.runs_at_worst !== "yes" ? (
        <FindingMark shape={verdict.runs === "no" ? "error" : verdict.runs === "yes" ? "warning" : "gap"} />
      ) : null}{" "}
      {first.complete ? "" : "≥ "}
      {decibels(first.worst_loss_db)}
      {verdict ? <span className="free-under">{verdictWords(verdict)}</span> : null}
    </>
  );
}

function told(answer: FreePairAnswer, values: Readonly<Record<string, string>>): PageProps {
  const ways = answer.ways.map((way, index): Numbered => ({ ...way, number: index + 1 }));
  const selected = ways.find(({ number }) => String(number) === values.at) ?? ways[0] ?? null;
  const records = [
    answer.from,
    answer.to,
    answer.avoid,
    ...ways.flatMap(({ stretches }) => stretches.flatMap((one) => one.cables)),
  ];
  return {
    answer: <Tagged text={answer.sentence} records={records} />,
    leaf: <WayLeaf answer={answer} way={selected} values={values} />,
    children: (
      <Region name="ledger" label={say`Ways`} className="free-ways">
        {ways.length > 0 ? (
          <Walked
            label={say`Ways from ${answer.from.tag} to ${answer.to.tag}`}
            columns={COLUMNS}
            rows={ways}
            keyOf={({ number }) => String(number)}
            selected={selected ? String(selected.number) : null}
            onSelect={(at) => goWith({ at }, { replace: true })}
          />
        ) : (
          <p className="free-none">
            {plural(
              answer.examined,
              "No way was found among {0} stretch of free glass.",
              "No way was found among {0} stretches of free glass.",
            )}
          </p>
        )}
        {answer.separate ? (
          <section className="free-separate" aria-labelledby="free-separate">
            <h2 id="free-separate">{say`Two routes that share no place and no pathway`}</h2>
            <ol>
              {answer.separate.routes.map((route, index) => (
                <Route key={route.cables.map(({ id }) => id).join(" ") || index} route={route} />
              ))}
            </ol>
          </section>
        ) : null}
        {answer.unknown.length > 0 ? (
          <section className="free-separate" aria-labelledby="free-unknown">
            <h2 id="free-unknown">{say`What is not known`}</h2>
            <ul>
              {answer.unknown.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </section>
        ) : null}
      </Region>
    ),
  };
}

/** What light would lose on a separate route, and whether what is wanted runs on it. */
function RouteLoss({ route: { way, lacks } }: { readonly route: SeparateRoute }) {
  const verdict = way?.loss?.application;
  return (
    <>
      <p>
        {way
          ? sayWith`Loss at worst: ${<Loss loss={way.loss} />}`
          : say`Loss not reckoned: its strands don't end where its cables do, and would be cut out on the way.`}
      </p>
      {[...(verdict?.reasons ?? []), ...(way?.doubts ?? []), ...lacks].map((words) => (
        <p key={words} className="small soft">
          {words}
        </p>
      ))}
    </>
  );
}

function Route({ route }: { readonly route: SeparateRoute }) {
  return (
    <li>
      <span className="free-over">
        {route.cables.map((cable) => (
          <TagLink key={cable.id} record={cable} />
        ))}
      </span>{" "}
      {sayWith`${<Length way={route} />}, ${counted(route.joints, "joint")} to be made`}
      <RouteLoss route={route} />
      <p className="small faint">
        {say`through`}{" "}
        {route.through.map((place, index) => (
          <span key={`${place.kind} ${place.id}`}>
            {index > 0 ? ", " : ""}
            <TagLink record={place} />
          </span>
        ))}
      </p>
    </li>
  );
}
