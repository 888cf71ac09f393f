/** What feeds a building or a place? */
import { useMemo } from "react";
import type { FeedStrand, FeedsAnswer } from "../../../core/feeds/answer.ts";
import type { StrandState } from "../../../core/trace/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { PrintButton } from "../../controls/print-button.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { GhostComb } from "../../drawing/ghosts.tsx";
import { STATE_WORDS } from "../../drawing/states.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { Comb } from "./comb.tsx";
import { FeedsLeaf } from "./feeds-leaf.tsx";
import { StrandTable } from "./strand-table.tsx";
import "./feeds.css";

export function Feeds({ values }: ViewProps) {
  const of = values.of ?? "";
  const answer = useAnswer("feeds.of", of ? { what: of } : null);
  const fed = useFed(answer.value, values);
  // One page whatever it shows, so that the blank that was filled keeps the focus.
  if (!of) {
    return (
      <Page answer={say`Fill the blank with a building, such as LIB, or one of its rooms.`}>
        <div className="teach">
          <GhostComb />
          <p>
            {say`Every cable that comes in, every strand in it: what it is doing, where it goes, and how many are free to each other building by patching alone.`}
          </p>
        </div>
      </Page>
    );
  }
  return fed ? (
    <Page {...fed} />
  ) : (
    <Page>
      {
        <Answered answer={answer} asked={of} word={say`Looking at every strand`}>
          {() => null}
        </Answered>
      }
    </Page>
  );
}

/** What the blanks leave, before what there is in all. */
function shownWords(count: number, state: StrandState | "", over: string): string {
  if (!state && !over) return "";
  const words = [state ? STATE_WORDS[state] : "", over ? say`over ${over}` : ""].filter(Boolean).join(", ");
  return say`${counted(count, "strand", "strands")} ${words}. In all: `;
}

const NONE: FeedsAnswer["cables"] = [];

/** The parts of the page that tell what feeds a place. */
function useFed(answer: FeedsAnswer | undefined, values: Readonly<Record<string, string>>): PageProps | null {
  const state = (values.state ?? "") as StrandState | "";
  const over = values.over ?? "";
  const all = answer?.cables ?? NONE;
  const cables = useMemo(() => (over ? all.filter(({ cable }) => cable.tag === over) : all), [all, over]);
  const strands: readonly FeedStrand[] = useMemo(
    () => cables.flatMap((cable) => cable.strands).filter((strand) => state === "" || strand.state === state),
    [cables, state],
  );
  if (!answer) return null;
  const selected = strands.find(({ strand }) => strand === values.at)?.strand ?? strands[0]?.strand ?? null;
  const select = (strand: string): void => goWith({ at: strand }, { replace: true });
  const open = (strand: FeedStrand): void => {
    location.hash = addressOf("find", { of: strand.section.tag });
  };
  const records = [
    ...[answer.subject, ...all.map(({ cable }) => cable)],
    ...[...answer.single_points, ...answer.cut_circuits],
  ];
  return {
    answer: <Tagged text={`${shownWords(strands.length, state, over)}${answer.sentence}`} records={records} />,
    acts: (
      <PrintButton name="paper.feed_sheet" input={{ place: answer.subject.tag }}>
        {say`Print the feed sheet`}
      </PrintButton>
    ),
    leaf: <FeedsLeaf answer={answer} />,
    children:
      all.length === 0 ? (
        <div className="teach">
          <GhostComb />
          <p>
            {sayWith`${<b>{say`No cable on record ends at or passes ${answer.name}.`}</b>} Nobody entered one yet, or its stops are at places that aren't known to be inside.`}
          </p>
        </div>
      ) : (
        <>
          <Region name="drawing" label={say`Strands by tube`} className="feeds-drawing">
            <Comb answer={answer} cables={cables} shown={state} selected={selected} onSelect={select} />
          </Region>
          <Region name="ledger" label={say`Strands`} className="feeds-ledger">
            <StrandTable strands={strands} selected={selected} onSelect={select} onOpen={open} />
          </Region>
        </>
      ),
  };
}
