/** Labels for what is asked: the sheet as it will come out, one label with its measures, what is written, and this printer. */
import { useEffect, useRef, useState } from "react";
import { LABEL_CLASSES } from "../../../core/model/label-blanks.ts";
import { shownDay } from "../../../core/model/wording.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { settings, useSettings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { useLongAct } from "../../client/use-long-act.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { usePrinting } from "../../controls/print-button.tsx";
import { withDays } from "../../controls/said.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Waiting } from "../../controls/waiting.tsx";
import { editedOf, type WrittenOn } from "../../forms/written-on.tsx";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { usePaperOf } from "../../frame/paper.ts";
import { Region } from "../../frame/region.tsx";
import { goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { type Draft, keyOf, type LaidOne, type Lay, printInput, startOf, tenths } from "./asked.ts";
import { LabelDrawing } from "./label-drawing.tsx";
import { LabelsList } from "./labels-list.tsx";
import { OverflowList } from "./overflow.tsx";
import { PrinterPanel } from "./printer.tsx";
import { SheetDrawing, wordsOf } from "./sheet-drawing.tsx";
import { TapeDrawing } from "./tape-drawing.tsx";
import { useDraft } from "./use-draft.ts";
import { WordingPanel } from "./wording.tsx";
import "../../forms/forms.css";
import "./labels.css";
import { counted, plural } from "../../../core/words/counted.ts";

/** Said with each PDF: a printer that fits the page to its paper moves every label. */
const ACTUAL_SIZE = say` Print at actual size.`;
/** A wording is tried when nothing was typed for so long, in milliseconds. */
const TRY_MS = 200;

export function Labels({ values }: ViewProps) {
  const start = startOf(values.start);
  if (start === null) return <Page answer={say`${values.start} is not the number of a label: count from 1.`} />;
  return <Laid values={values} />;
}

function useTried(draft: Draft | null): Draft | null {
  const [tried, setTried] = useState<Draft | null>(null);
  useEffect(() => {
    if (draft === null) return setTried(null);
    const wait = setTimeout(() => setTried(draft), TRY_MS);
    return () => clearTimeout(wait);
  }, [draft]);
  return draft === null ? null : tried;
}

const FIRST_KEEP = say`First keep what is written, or drop it`;

function PrintKey({ print }: { readonly print: () => void }) {
  usePaperOf(print);
  return null;
}

function Laid({ values }: ViewProps) {
  const { act } = useAct();
  const printing = usePrinting();
  const testing = usePrinting();
  const recording = useLongAct();
  const { labelPrinter, labelSheet, recordPrinted, paper } = useSettings();
  const { draft, on, setDraft } = useDraft(values);
  const [refused, setRefused] = useState<Failure | null>(null);
  const [smaller, setSmaller] = useState(false);
  const [picked, setPicked] = useState<string | null>(null);
  const [pointed, setPointed] = useState<number | null>(null);
  const [keeping, setKeeping] = useState(false);
  const tried = useTried(draft);
  const wordingPart = useRef<HTMLDivElement>(null);

  // The printer's own measures move nothing among the labels; only its dots do.
  // The sheet that lies in this machine's printer may be one of another plant.
  const sheets = useAnswer("label.sheets", {}, { kinds: ["label_sheet"] }).value?.sheets;
  const sheet = values.sheet || (sheets?.some(({ name }) => name === labelSheet) ? labelSheet : "");
  const asked = printInput({ values: { ...values, sheet }, draft: tried, printer: labelPrinter, smaller, paper });
  const page = Number(values.page ?? "0") || 0;
  const last = useRef<Lay | undefined>(undefined);
  const shown = last.current?.labels.findIndex((label) => keyOf(label) === picked) ?? -1;
  const answer = useAnswer("label.lay", {
    ...asked,
    printer: { dots_per_inch: labelPrinter.dots_per_inch },
    page,
    ...(shown >= 0 ? { show: shown } : { show: 0 }),
  });
  if (answer.value) last.current = answer.value;
  // While a wording can't be used, what could be stays to be seen.
  const lay = answer.value ?? (tried !== null ? last.current : undefined);
  const wordings = useAnswer("label.wordings", {}, { kinds: ["label_template", "plant"] }).value;
  const fault = tried !== null ? answer.error : undefined;

  const lost = answer.error?.code === "not_found" ? answer.error.problems[0] : undefined;
  const unfit = answer.error?.problems.some(({ field }) => field === "start") ?? false;
  if (!lay)
    return (
      <Page>
        <Answered
          answer={answer}
          word={say`Laying out labels`}
          {...(lost?.field === "of" && lost.record ? { asked: lost.record } : {})}
        >
          {() => null}
        </Answered>
        {unfit ? (
          <p className="labels-unfit">
            <Button onClick={() => goWith({ start: null }, { replace: true })}>{say`Begin with label 1`}</Button>
          </p>
        ) : null}
      </Page>
    );

  const each = lay.sheet.per_page;
  const cursor = pointed ?? lay.start - 1;
  const placed = (label: LaidOne): number | null =>
    label.at ? label.at.page * each + label.at.row * lay.sheet.columns + label.at.column : null;
  const selected =
    lay.labels.find((label) => keyOf(label) === picked) ??
    lay.labels.find((label) => placed(label) === cursor) ??
    lay.labels[0] ??
    null;

  const pick = (key: string): void => {
    setPicked(key);
    const label = lay.labels.find((one) => keyOf(one) === key);
    const place = label ? placed(label) : null;
    if (label?.at) {
      setPointed(place);
      if (label.at.page !== page) goWith({ page: String(label.at.page) }, { replace: true });
    }
  };
  const point = (place: number): void => {
    setPointed(place);
    const label = lay.labels.find((one) => placed(one) === place);
    setPicked(label ? keyOf(label) : null);
  };
  const begin = (place: number): void => {
    setPointed(place);
    setPicked(null);
    goWith({ start: String(place + 1), page: null }, { replace: true });
  };

  const print = async (): Promise<void> => {
    const made = lay.labels.filter(({ at }) => at !== null);
    const done = await printing.print("label.print", { ...asked, leave_out: true }, ACTUAL_SIZE);
    if (!done || !recordPrinted) return;
    const labels = made.map(({ kind, id, space_id }) => ({ kind: kind as "cable", id, space_id }));
    const reply = await recording.run("label.printed", { labels });
    if (reply && !reply.ok) sayRefused(reply.error);
  };

  /** Ctrl+P is the button: labels printed as they stand on the screen would be of no size. */
  const byKey = (): void => {
    if (draft !== null) notify(FIRST_KEEP);
    else if (lay.fit === 0) notify(say`No label here can be printed.`);
    else if (!printing.running && !recording.running) void print();
  };

  const wording = selected && wordings ? wordingOf(selected, wordings, draft) : null;
  const template = wording && templateOf(wording);
  const type = (next: Draft | null): void => {
    setRefused(null);
    setDraft(next, template);
  };
  const keep = async (read: WrittenOn): Promise<void> => {
    if (!draft) return;
    setKeeping(true);
    const { place, text, code } = draft;
    const reply = read
      ? await act("record.edit", { kind: "label_template", ...read, values: { text, code } })
      : await act("record.add", { kind: "label_template", values: { tag: LABEL_CLASSES[place], place, text, code } });
    setKeeping(false);
    if (!reply) return;
    setRefused(reply.ok ? null : reply.error);
    if (reply.ok) setDraft(null, null);
  };

  return (
    <Page
      answer={<Told lay={lay} />}
      acts={
        <Button
          filled
          onClick={() => void print()}
          disabled={lay.fit === 0 || draft !== null}
          busy={printing.running ? say`Printing` : recording.running ? say`Recording` : null}
          title={draft ? FIRST_KEEP : say`A PDF at actual size`}
        >
          {say`Print ${lay.fit}`}
        </Button>
      }
    >
      <PrintKey print={byKey} />
      <div className="labels-page">
        <Region name="drawing" label={say`The sheet`} className="labels-sheet">
          {lay.sheet.form === "tape" ? (
            <>
              <p className="soft">{say`A tape: each label is cut to the length of its text. Source of its measures: ${lay.sheet.source}.`}</p>
              <TapeDrawing labels={lay.labels} selected={selected} onSelect={pick} />
            </>
          ) : (
            <>
              <SheetDrawing lay={lay} page={page} cursor={cursor} onCursor={point} onBegin={begin} />
              <p className="labels-caption">
                <span>
                  {say`${tenths(lay.sheet.page_width_mm ?? 0)} × ${tenths(lay.sheet.page_height_mm ?? 0)} mm, ${lay.sheet.columns} by ${lay.sheet.rows}`}
                </span>
                <Pages page={page} pages={lay.pages} />
              </p>
              <p className="soft small">
                {say`Click a free place, or walk to it with the arrows and press Enter, to begin there. Source of the sheet's measures: ${lay.sheet.source}.`}
              </p>
            </>
          )}
        </Region>
        <div className="labels-right">
          <div className="labels-work">
            {printing.running ? <Waiting word={say`Printing`} {...printing.running} stop={printing.stop} /> : null}
            {recording.running ? <Waiting word={say`Recording`} {...recording.running} stop={recording.stop} /> : null}
            {selected ? <One label={selected} corner_mm={lay.sheet.corner_mm} /> : null}
            <OverflowList
              lay={lay}
              smaller={smaller}
              onSmaller={setSmaller}
              onSheet={(name) => goWith({ sheet: name, start: null, page: null }, { replace: true })}
              onPick={pick}
              onWording={() => wordingPart.current?.querySelector("textarea")?.focus()}
            />
            <div className="labels-two" ref={wordingPart}>
              {wording && wordings ? (
                <WordingPanel
                  wording={wording}
                  blanks={wordings.blanks}
                  draft={draft}
                  fault={fault}
                  refused={refused}
                  onDraft={type}
                  onKeep={() => void keep(editedOf(on, template))}
                  onOver={(read) => void keep(read)}
                  busy={keeping}
                />
              ) : (
                <span />
              )}
              <PrinterPanel
                busy={testing.running !== null}
                onTest={() => {
                  const { printer } = asked;
                  void testing.print("label.outline", { ...(sheet ? { sheet } : { paper }), printer }, ACTUAL_SIZE);
                }}
              />
            </div>
            <label className="label-record">
              <input
                type="checkbox"
                checked={recordPrinted}
                onChange={({ target }) => settings.set({ recordPrinted: target.checked })}
              />{" "}
              {say`Put them on record as printed, in one change: made, not yet seen in place`}
            </label>
          </div>
          {lay.labels.length > 0 ? (
            <Region name="ledger" label={say`Labels`} className="labels-ledger">
              <LabelsList labels={lay.labels} selected={selected} onSelect={pick} />
            </Region>
          ) : null}
        </div>
      </div>
    </Page>
  );
}

/** The plant's own template, at the version that was read. */
const templateOf = ({ id, rev }: Wordings["wordings"][number]): WrittenOn =>
  id === null ? null : { id, rev: rev ?? 0 };

type Wordings = NonNullable<ReturnType<typeof useAnswer<"label.wordings">>["value"]>;

/** The wording of a label, as it is in use: of the draft's class while one is being tried. */
function wordingOf(
  label: LaidOne,
  { wordings, patterns }: Wordings,
  draft: Draft | null,
): Wordings["wordings"][number] | null {
  const place = draft?.place ?? label.class;
  const named = draft ? undefined : wordings.find(({ name }) => name === label.wording);
  const first = named ?? wordings.find((one) => one.place === place) ?? null;
  const pattern = patterns[label.kind]?.[0];
  const byPattern = !draft && pattern !== undefined && label.wording_from === "pattern";
  return byPattern && first
    ? { ...first, name: label.wording, text: pattern, from: "pattern", id: null, rev: null }
    : first;
}

function One({ label, corner_mm }: { readonly label: LaidOne; readonly corner_mm: number }) {
  const { laid, on_record: found, left_out } = label;
  return (
    <section aria-label={say`One label`} className="labels-one">
      <h2>
        <TagLink record={{ kind: label.kind, id: label.id, tag: label.record }} strong />
        {label.place === null || label.place === label.record ? null : say` at ${label.place}`}
        <span className="soft">
          {label.type_mm === null ? "" : say`, type ${tenths(label.type_mm)} mm`}
          {laid?.code ? say`, squares of ${(Math.round(laid.code.module_mm * 1000) / 1000).toFixed(3)} mm` : ""}
        </span>
      </h2>
      {laid ? <LabelDrawing laid={laid} corner_mm={corner_mm} words={say`The label ${wordsOf(label)}`} /> : null}
      <p className="soft">
        {label.needed === null ? say`On record, nothing is due.` : say`To be made: ${withDays(label.needed)}.`}
        {found?.printed_on ? say` Last printed ${shownDay(found.printed_on)}.` : ""}
        {left_out.length > 0 ? say` Left out, since it is not on record: ${left_out.join(", ")}.` : ""}
        {laid?.code ? say` The code says ${label.says}; the search box opens it.` : ""}
      </p>
    </section>
  );
}

function Pages({ page, pages }: { readonly page: number; readonly pages: number }) {
  if (pages <= 1) return <span>{say`page 1 of ${Math.max(1, pages)}`}</span>;
  const to = (next: number): void => goWith({ page: String(next) }, { replace: true });
  return (
    <span className="labels-pages">
      <Button onClick={() => to(page - 1)} disabled={page === 0} label={say`The page before`}>
        ‹
      </Button>
      {say`page ${page + 1} of ${pages}`}
      <Button onClick={() => to(page + 1)} disabled={page + 1 >= pages} label={say`The page after`}>
        ›
      </Button>
    </span>
  );
}

function Told({ lay }: { readonly lay: Lay }) {
  const { labels, fit, pages, sheet, start } = lay;
  if (labels.length === 0) return say`No label is needed: each place that should have one has it on record.`;
  const needed = labels.filter((label) => label.needed !== null).length;
  const from =
    pages === 1 && sheet.form !== "tape" ? say` They fill places ${start} to ${start + fit - 1} of one sheet.` : "";
  const over = labels.length - fit;
  return (
    <>
      <b>{counted(labels.length, "label", "labels")}</b>
      {needed === 0 ? say`, all of them on record already.` : say`, ${needed} of them to be made.`}
      {fit === 0 ? "" : from || say` They fill ${counted(pages, "page", "pages")}.`}
      {over > 0 ? plural(over, " {0} doesn't fit or can't be worded.", " {0} don't fit or can't be worded.") : ""}
    </>
  );
}
