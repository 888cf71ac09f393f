/** The list of questions, what was asked lately, and how much is on record. */

import { useEffect, useRef } from "react";
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAsked } from "../../client/asked.ts";
import { useChecked } from "../../client/checked.ts";
import { settings, useSettings } from "../../client/settings.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { LeafPart } from "../../controls/leaf.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { age } from "../../frame/ages.ts";
import { useCurrentView } from "../../frame/current-view.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { useToured } from "../../frame/tour.tsx";
import { TOUR_STEPS } from "../../frame/tour-steps.ts";
import { isBlank, TABS, type TabName, type View, type ViewProps } from "../view.ts";
import { RecentPlants } from "./recent.tsx";
import "./ask.css";

export function Ask({ values }: ViewProps) {
  const { views } = useCurrentView();
  const questionsOf = (tab: TabName): readonly View[] => views.filter((view) => view.tab === tab && !view.unlisted);
  const summary = useAnswer("plant.summary", {}).value;
  const empty = summary !== undefined && isEmpty(summary);
  const names = (Object.keys(TABS) as TabName[]).filter((name) => questionsOf(name).length > 0);
  const toured = useToured();
  const asked = useRef<HTMLElement>(null);
  // Who asked for a tab's questions has the first of them one Tab ahead.
  useEffect(() => {
    if (values.tab !== undefined) asked.current?.focus();
  }, [values.tab]);
  return (
    <Page
      answer={say`Choose a question, then fill its blanks. Or type a tag above: the questions that fit it come to the top.`}
      leaf={<AskLeaf />}
    >
      <Region name="ledger" label={say`Questions`} className="questions">
        {empty ? <Begin /> : null}
        {toured ? (
          <p className="ask-what">
            {say`Strandbook is the record book of a campus fibre plant: where each strand runs, what is on it, and what to do where one breaks. This is a copy of an invented campus to try it on; nothing typed here touches another file.`}
          </p>
        ) : null}
        <TourOffer />
        {names.map((name) => (
          <section
            key={name}
            ref={name === values.tab ? asked : undefined}
            tabIndex={-1}
            className={name === values.tab ? "questions-tab here" : "questions-tab"}
            aria-labelledby={`ask-${name}`}
          >
            <div>
              <h2 id={`ask-${name}`}>{TABS[name].verb}</h2>
              <p className="faint small">{TABS[name].asks}</p>
            </div>
            <ul>
              {questionsOf(name).map((view) => (
                <li key={view.path}>
                  <a href={addressOf(view.path)}>
                    <QuestionWords view={view} />
                  </a>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </Region>
    </Page>
  );
}

/** The question with its blanks drawn as blanks; what is asked unless one says otherwise is written in. */
function QuestionWords({ view }: { readonly view: View }) {
  return view.question.map((part) => {
    if (!isBlank(part)) return part;
    const standing = part.fill === "choice" ? part.choices[0]?.words : part.fill === "text" ? part.empty : undefined;
    return (
      <span key={part.name} className="blank-word">
        {standing ?? part.hint}
      </span>
    );
  });
}

const COUNTED: readonly KindName[] = [
  "building",
  "space",
  "pathway",
  "cable",
  "strand",
  "splice",
  "panel",
  "port",
  "circuit",
];

/** On the demo campus: begins the tour, or goes on where it was left. */
function TourOffer() {
  const { tour, touring } = useSettings();
  if (!useToured() || touring) return null;
  return (
    <p className="tour-offer">
      <Button filled={tour === 0} onClick={() => settings.set({ touring: true })}>
        {tour === 0 ? say`Take the tour: three minutes` : say`Go on with the tour, ${tour + 1} of ${TOUR_STEPS.length}`}
      </Button>
      <span className="soft">{say`Seven things to try on this invented campus; leave it at any time.`}</span>
    </p>
  );
}

type Summary = AnswerOf<"plant.summary">;

const isEmpty = ({ counts }: Summary): boolean =>
  counts.every(({ kind, count: own }) => own === 0 || !COUNTED.includes(kind));

/** A plant with nothing in it yet: what it will show, and the ways to begin. */
function Begin() {
  return (
    <section className="teach begin" aria-labelledby="begin">
      <GhostLine />
      <h2 id="begin">{say`Nothing is on record yet`}</h2>
      <p>
        {say`A line of glass needs two places, a cable between them, and what its strands land on. Begin with a building and its rooms, or read the files of another plant.`}
      </p>
      <div className="begin-ways">
        <a className="button filled" href={addressOf("enter", { kind: "building" })}>
          {say`Enter a first building`}
        </a>
        <a className="button" href={addressOf("import")}>
          {say`Read a folder of files`}
        </a>
      </div>
    </section>
  );
}

function AskLeaf() {
  const asked = useAsked();
  const summary = useAnswer("plant.summary", {}).value;
  const checked = useChecked();
  const of = (kind: KindName): number => summary?.counts.find((one) => one.kind === kind)?.count ?? 0;
  const empty = summary !== undefined && isEmpty(summary);
  return (
    <>
      <section className="asked">
        <h2>{say`Asked lately`}</h2>
        {asked.length === 0 ? <p className="faint">{say`Nothing yet on this machine.`}</p> : null}
        <ul>
          {asked.slice(0, 9).map((one) => (
            <li key={one.address}>
              <span className="faint">{age(one.at)}</span>
              <a href={one.address}>{one.sentence}</a>
            </li>
          ))}
        </ul>
      </section>
      <RecentPlants />
      <LeafPart title={say`This plant`}>
        {empty ? (
          <p>{say`Nothing is on record yet.`}</p>
        ) : summary ? (
          <ul className="counts">
            {COUNTED.filter((kind) => of(kind) > 0).map((kind) => (
              <li key={kind}>
                <b>{count(of(kind))}</b> {of(kind) === 1 ? KINDS[kind].one : KINDS[kind].many}
              </li>
            ))}
          </ul>
        ) : null}
        {checked ? (
          <p className="asked-check">
            <a className="link" href="#/check">
              {counted(checked.findings, "finding", "findings")}
            </a>{" "}
            {say`at the last check`}
          </p>
        ) : null}
      </LeafPart>
    </>
  );
}
