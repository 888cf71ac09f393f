/** Where does a port, strand or circuit go? */
import { useMemo } from "react";
import type { TraceAnswer, TraceLine } from "../../../core/trace/answer.ts";
import type { Traceable } from "../../../core/trace/target.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { useLength } from "../../controls/figures.ts";
import { PrintButton } from "../../controls/print-button.tsx";
import { recordAddress } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { go, goWith } from "../../frame/router.ts";
import { LossAlong } from "../loss/along.tsx";
import type { ViewProps } from "../view.ts";
import { EMPTY_ANSWER, FindEmpty } from "./empty.tsx";
import { HopLeaf } from "./hop-leaf.tsx";
import { Ledger, LedgerSum } from "./ledger.tsx";
import { LineChoice } from "./line-choice.tsx";
import { type Row, rowsBehind, rowsOf, sameCourse } from "./rows.ts";
import { Strip } from "./strip.tsx";
import "./find.css";

/** So many lines can be drawn side by side on the same rows. */
const MOST_SIDE_BY_SIDE = 4;
const NONE: readonly TraceLine[] = [];

export function Find({ values }: ViewProps) {
  const of = values.of ?? "";
  const what = values.kind && values.id ? { kind: values.kind as Traceable, id: Number(values.id) } : of;
  const answer = useAnswer("trace.walk", what ? { what } : null);
  const traced = useTraced(answer.value, values);
  // One page whatever it shows, so that the blank that was filled keeps the focus.
  if (!what) return <Page answer={EMPTY_ANSWER}>{<FindEmpty />}</Page>;
  return traced ? (
    <Page {...traced} />
  ) : (
    <Page>
      {
        <Answered answer={answer} asked={of} word={say`Tracing`}>
          {() => null}
        </Answered>
      }
    </Page>
  );
}

/** The parts of the page that tell a trace. */
function useTraced(answer: TraceAnswer | undefined, values: Readonly<Record<string, string>>): PageProps | null {
  const lines = answer?.lines ?? NONE;
  const together = lines.length <= MOST_SIDE_BY_SIDE && sameCourse(lines);
  const chosen = Math.max(0, Math.min(lines.length - 1, Number(values.line ?? 1) - 1));
  const shown: readonly TraceLine[] = useMemo(
    () => (together ? lines : lines.slice(chosen, chosen + 1)),
    [together, lines, chosen],
  );
  const rows = useMemo(() => rowsOf(shown), [shown]);
  const behind = useMemo(() => (shown[0]?.behind ? rowsBehind(shown[0]) : []), [shown]);
  if (!answer) return null;
  const [line] = shown;
  if (!line) return { answer: answer.sentence };
  const every = [...rows, ...behind];
  const asked = rows.find(({ key }) => key === String(line.behind ? 0 : line.at));
  const selected = every.find(({ key }) => key === values.at) ?? asked ?? rows[0] ?? null;

  const select = (key: string): void => goWith({ at: key }, { replace: true });
  const open = (row: Row): void => {
    const record = row.kind === "hop" ? row.hops[0]?.record : row.kind === "end" ? row.ends[0]?.record : null;
    if (record) location.hash = recordAddress(record);
  };
  const ledger = { strands: shown.length, selected: selected?.key ?? null, onSelect: select, onOpen: open };
  return {
    answer: <Told answer={answer} />,
    acts: (
      <>
        <PrintButton name="paper.trace_sheet" input={{ what: values.of ?? answer.asked }}>
          {say`Print the trace sheet`}
        </PrintButton>
        <FarEnd line={line} together={shown.length > 1} />
      </>
    ),
    leaf: <HopLeaf row={selected} answer={answer} />,
    children: (
      <>
        <Region name="drawing" label={say`The line`} className="find-drawing">
          {together ? null : <LineChoice lines={lines} chosen={chosen} />}
          <Strip lines={shown} selected={selected?.key ?? null} onSelect={select} />
        </Region>
        <Region name="ledger" label={say`Hop by hop`} className="find-ledger">
          <Ledger {...ledger} rows={rows} label={say`Hops of ${line.asked}`} foot={<Sum lines={shown} />} />
          {behind.length > 0 ? (
            <>
              <h2 className="find-behind">{say`The other way from ${line.asked}`}</h2>
              <Ledger {...ledger} rows={behind} label={say`The other way from ${line.asked}`} />
            </>
          ) : null}
          {lines.length > 0 && line.root.branches.length === 0 && line.to.kind !== "ring" ? (
            <LossAlong of={values.of ?? line.asked} />
          ) : null}
        </Region>
      </>
    ),
  };
}

function Told({ answer }: { readonly answer: TraceAnswer }) {
  const { from, to, lines, hops } = answer;
  const records = [from.record, to.record, ...lines.flatMap((line) => [line.from.record, line.to.record])];
  return (
    <Tagged
      text={answer.sentence}
      records={[...records, ...hops.flatMap(({ record, circuits }) => [record, ...circuits])]}
    />
  );
}

function Sum({ lines }: { readonly lines: readonly TraceLine[] }) {
  const length = useLength();
  const [line] = lines;
  if (!line || line.root.branches.length > 0 || line.behind) return null;
  const { totals } = line;
  const words = [
    counted(totals.hops, "hop", "hops"),
    totals.splices > 0 ? counted(totals.splices, "splice", "splices") : "",
    totals.cords > 0 ? counted(totals.cords, "cord", "cords") : "",
    totals.assumed > 0 ? say`${totals.assumed} assumed` : "",
    // A sum that lacks something would be taken for the whole.
    totals.glass_m === null || totals.lacks.length > 0 ? "" : say`${length(totals.glass_m)} of glass`,
  ];
  return <LedgerSum length_m={totals.length_m} lacks={totals.lacks} words={words.filter(Boolean).join(", ")} />;
}

/** The same line, told from where it ends. */
function FarEnd({ line, together }: { readonly line: TraceLine; readonly together: boolean }) {
  const far = line.to.record;
  if (!far || line.root.branches.length > 0 || line.to.kind === "ring") return null;
  const of = together ? far.tag.replace(/#\d+$/, "") : far.tag;
  return (
    <Button onClick={() => go("find", { of })} title={say`Where does ${of} go?`}>
      {say`From the other end`}
    </Button>
  );
}
