/** "Show splices in CL-03, by tray": every kind as a table to be read and written. */
import { useCallback, useEffect, useMemo, useRef, useState, useSyncExternalStore } from "react";
import { KIND_NAMES, KINDS, type KindName } from "../../../core/model/dictionary.ts";
import type { Failure } from "../../../core/result.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { settings, useSettings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { NearBy } from "../../controls/near-by.tsx";
import { Refused } from "../../controls/refused.tsx";
import { recordAddress } from "../../controls/tag-link.tsx";
import { FindingMark, SEVERITY_WORDS } from "../../drawing/findings.tsx";
import { useOffering, usePointedAt } from "../../frame/commands.ts";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, goWith } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import type { Asked } from "../../grid/asked.ts";
import type { GridColumn } from "../../grid/columns.ts";
import { Grid } from "../../grid/Grid.tsx";
import type { GridSort, GridSpot } from "../../grid/grid-props.ts";
import { pickedOf } from "../../grid/picked.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { recallLook, rememberLook, type TableLook } from "../../grid/remembered.ts";
import type { GridRow } from "../../grid/row-source.ts";
import { ASKS, type SavedView } from "../../grid/saved-views.ts";
import { idOf, typedOf } from "../../grid/typed.ts";
import type { Editing } from "../../grid/use-editing.ts";
import { useReport } from "../check/findings-store.ts";
import { openByKind } from "../check/rules.ts";
import type { ViewProps } from "../view.ts";
import { DeleteDialog } from "./delete-dialog.tsx";
import "./enter.css";
import { withArticle } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { today } from "../../grid/today.ts";
import { Answer, whereWords } from "./answer-line.tsx";
import { AskedDialog } from "./asked-dialog.tsx";
import { HintLine } from "./hint-line.tsx";
import { KindIndex } from "./kind-index.tsx";
import {
  asked as asFilters,
  kindAsked,
  PLACES,
  readFilters,
  readSorts,
  readTyped,
  writeSorts,
  writeTyped,
} from "./question.ts";
import { tableOffers } from "./table-offers.ts";
import type { About } from "./use-chosen.ts";
import { useGoTo } from "./use-go-to.ts";
import { useOffers } from "./use-offers.ts";
import { useRowNotes } from "./use-row-notes.tsx";
import { type Selection, useGlass, useGridCalls, useRows, useSuggest } from "./use-table.ts";

export function Enter({ values }: ViewProps) {
  const kind = kindAsked(values);
  if (values.kind && values.kind !== kind) return <NoKind asked={values.kind} />;
  return <Entering kind={kind} values={values} />;
}

/** The address names no kind of record: what there is, instead of a table that wasn't asked for. */
const NoKind = ({ asked }: { readonly asked: string }) => (
  <Page sentence={<h1>{say`Show ${asked}?`}</h1>} answer={say`No kind of record is called ${asked}. There are:`}>
    <ul className="kinds-there">
      {KIND_NAMES.map((kind) => (
        <li key={kind}>
          <a className="link" href={addressOf("enter", { kind })}>
            {KINDS[kind].many}
          </a>
        </li>
      ))}
    </ul>
  </Page>
);

function Entering({ kind, values }: { readonly kind: KindName; readonly values: ViewProps["values"] }) {
  const place = useAnswer("address.resolve", values.in ? { text: values.in, kinds: [...PLACES] } : null, { kinds: [] });
  const [found] = place.value?.matches ?? [];
  if (values.in && !found)
    return (
      <Page answer={place.value ? say`Nothing on record is called ${values.in}.` : ""}>
        <Answered answer={place} word={say`Looking it up`}>
          {() => <NearBy asked={values.in ?? ""} />}
        </Answered>
      </Page>
    );
  const within = values.in && found ? found : null;
  // A new kind is a new table; nothing of the old one's state has a meaning in it.
  return <Table key={kind} kind={kind} values={values} within={within} />;
}

interface TableProps {
  readonly kind: KindName;
  readonly values: Readonly<Record<string, string>>;
  /** Only what lies in, on or along this record. */
  readonly within: RecordRef | null;
}

function Table({ kind, values, within }: TableProps) {
  const { unit } = useSettings();
  const habits: ReadingHabits = useMemo(() => ({ today: today(), lengths: unit }), [unit]);
  const status = useStatus();
  const readOnly = status?.read_only ?? null;
  const { one, many, help } = KINDS[kind];

  const sorts = readSorts(kind, values.by);
  const typedFilters = readTyped(values.where);
  const read = readFilters(kind, typedFilters, habits);
  const selection: Selection = {
    kind,
    sort: sorts.map(({ field, descending }) => ({ field, descending })),
    filters: asFilters(read.filters),
    text: "",
    ...(within ? { within: { kind: within.kind, id: within.id } } : {}),
  };
  const source = useRows(selection);
  useSyncExternalStore(source.subscribe, () => source.stamp);
  const typed = typedOf(kind);
  useSyncExternalStore(typed.subscribe, () => typed.stamp);
  const picked = pickedOf(kind);
  useSyncExternalStore(picked.subscribe, () => picked.stamp);
  const glass = useGlass();
  const calls = useGridCalls();
  const suggest = useSuggest();

  const report = useReport();
  const markOfKind = useMemo(() => {
    const open = report ? openByKind(report) : new Map<KindName, never>();
    return (one: KindName) => {
      const found = open.get(one);
      if (!found) return null;
      return {
        mark: <FindingMark shape={found.severity} />,
        count: found.count,
        words: say`${counted(found.count, "finding", "findings")}, the worst ${SEVERITY_WORDS[found.severity].one}`,
      };
    };
  }, [report]);

  const [look, setLook] = useState<TableLook>(() => recallLook(kind));
  const keepLook = useCallback(
    (next: TableLook) => {
      setLook(next);
      rememberLook(kind, next);
    },
    [kind],
  );
  const [spot, setSpot] = useState<GridSpot | null>(null);
  const [filtering, setFiltering] = useState(Boolean(values.where));
  const [toEnd, setToEnd] = useState(0);
  const { toCell, goToCell, goToNew } = useGoTo(selection, source);
  const [deleting, setDeleting] = useState<{ rows: readonly GridRow[]; failure: Failure } | null>(null);
  const [asked, setAsked] = useState<Asked | null>(null);
  const [said, tells] = useSaid();
  const { act } = useAct();
  const editing = useRef<Editing | null>(null);

  const { linesOf, markOf, foldable } = useRowNotes(kind, typed, editing);
  const { findingsFolded } = useSettings();

  const remove = async (rows: readonly GridRow[]) => {
    if (readOnly) return tells(readOnly);
    const reply = await act("record.remove", {
      kind,
      ids: rows.map((row) => row.id),
      revs: rows.map((row) => row.rev),
    });
    if (!reply) return;
    if (reply.ok) notify(say`${reply.value.summary}. Undo brings it back.`);
    else if (reply.error.code === "rests_on") setDeleting({ rows, failure: reply.error });
    else sayRefused(reply.error);
  };

  const offers = useOffers(selection, typedFilters, habits);
  const setSorts = (next: readonly GridSort[]) => goWith({ by: writeSorts(next) });
  const setFilter = (column: GridColumn, text: string) => {
    const next = { ...typedFilters, [column.id]: text };
    goWith({ where: writeTyped(next) }, { replace: true });
  };
  const showAll =
    Object.keys(typedFilters).length === 0
      ? null
      : () => {
          goWith({ where: null }, { replace: true });
          backToTable();
        };
  const about: About = {
    kind,
    source,
    selection,
    picked: picked.ids,
    block: spot ? [spot.block.top, spot.block.bottom] : [0, -1],
  };
  const openView = (view: SavedView) => {
    keepLook(view.look);
    setFiltering(Boolean(view.asks.where));
    goWith({ in: null, where: null, by: null, ...view.asks });
  };
  useOffering(() => tableOffers({ kind, selection, showAll, openView }));
  usePointedAt(spot?.row ? { kind, id: spot.row.id, tag: spot.row.address } : null);
  const made = spot?.rowKey ?? null;
  const { total } = source;
  const failure = source.error as Failure | null;
  return (
    <Page
      acts={
        <>
          {readOnly ? null : (
            <Button onClick={() => setToEnd((turn) => turn + 1)}>{say`Add ${withArticle(one)}`}</Button>
          )}
          <Button onClick={() => go("acts")}>{say`Acts`}</Button>
          <Button onClick={() => setFiltering((on) => !on)}>{filtering ? say`Hide filters` : say`Filter`}</Button>
          {foldable ? (
            <Button
              title={say`What is wrong with a row, under it; hazards always stand there, and the marks tell of all`}
              onClick={() => settings.set({ findingsFolded: !findingsFolded })}
            >
              {findingsFolded ? say`Show findings` : say`Fold findings`}
            </Button>
          ) : null}
          <Button onClick={() => setAsked("columns")}>{say`Columns`}</Button>
          <Button onClick={() => setAsked("views")}>{say`Views`}</Button>
        </>
      }
      answer={
        total === null ? (
          " "
        ) : (
          <Answer
            kind={kind}
            total={total}
            read={read.words}
            place={within?.tag ?? null}
            help={help}
            onShowAll={showAll}
          />
        )
      }
    >
      <div className="enter">
        <KindIndex kind={kind} markOf={markOfKind} />
        <Region name="ledger" label={say`Table of ${many}`} className="enter-table">
          {/* What is on screen stays, and the focus with it. */}
          <div className="enter-unread">
            {failure ? <Refused failure={failure} again={() => void source.refresh()} /> : null}
          </div>
          <Grid
            kind={kind}
            label={say`${many}, one in each row`}
            source={source}
            glass={glass}
            typed={typed}
            picked={picked}
            onAsk={(what) =>
              readOnly && (what === "set_field" || what === "add_many") ? tells(readOnly) : setAsked(what)
            }
            calls={calls}
            suggest={suggest}
            habits={habits}
            readOnly={readOnly}
            look={look}
            onLook={keepLook}
            sorts={sorts}
            onSorts={setSorts}
            filtering={filtering}
            onFiltering={() => setFiltering(true)}
            filters={typedFilters}
            filterFaults={read.faults}
            onFilter={setFilter}
            filterOffers={offers.of}
            onFilterOpen={offers.open}
            linesOf={linesOf}
            markOf={markOf}
            onSpot={setSpot}
            onOpen={(row) => {
              location.hash = recordAddress({ kind, id: row.id, tag: row.address });
            }}
            onDelete={(rows) => void remove(rows)}
            say={tells}
            first={0}
            toEnd={toEnd}
            toCell={toCell}
          />
          <HintLine
            kind={kind}
            spot={spot}
            total={total}
            said={said}
            faults={Object.values(read.faults)}
            readOnly={readOnly}
            refused={typed.refused().length}
            unwritten={typed.unwritten(made).length}
            waiting={typed.waiting(made).length}
            picked={picked.size}
            onSetPicked={() => (readOnly ? tells(readOnly) : setAsked("set_field"))}
            onUnpick={() => {
              picked.clear();
              backToTable();
            }}
            onRefused={() => {
              const first = typed.refused()[0];
              const id = first ? idOf(first.row) : null;
              if (first && id !== null) void goToCell(id, first.field);
              else setToEnd((turn) => turn + 1);
            }}
            onWriteWaiting={() => {
              editing.current?.writeWaiting();
              backToTable();
            }}
            onLeaveAll={() => {
              for (const { row } of typed.unwritten()) typed.dropRow(row);
              backToTable();
            }}
          />
        </Region>
      </div>
      {asked ? (
        <AskedDialog
          asked={asked}
          about={about}
          look={look}
          onLook={keepLook}
          first={spot?.column?.id ?? null}
          model={spot?.row ?? null}
          asks={asksOf(values)}
          where={whereWords(within?.tag ?? null, read.words)}
          calls={calls}
          habits={habits}
          suggest={suggest}
          readOnly={readOnly}
          onGo={(id, field) => void goToCell(id, field)}
          onNew={goToNew}
          onView={openView}
          onDone={notify}
          onClose={() => {
            setAsked(null);
            backToTable();
          }}
        />
      ) : null}
      {deleting ? (
        <DeleteDialog
          kind={kind}
          rows={deleting.rows}
          failure={deleting.failure}
          onDone={notify}
          onClose={() => setDeleting(null)}
        />
      ) : null}
    </Page>
  );
}

const asksOf = (values: ViewProps["values"]): Record<string, string> =>
  Object.fromEntries(ASKS.flatMap((ask) => (values[ask] ? [[ask, values[ask]]] : [])));

/** A button under the table is gone once it was pressed; the keyboard goes on where it was. */
const backToTable = (): void => document.querySelector<HTMLElement>("[role=grid] [data-region-first]")?.focus();

/** What the table says; it goes by itself. */
function useSaid(): readonly [string, (words: string) => void] {
  const [said, setSaid] = useState("");
  const clock = useRef<ReturnType<typeof setTimeout>>(undefined);
  useEffect(() => () => clearTimeout(clock.current), []);
  const tells = useCallback((words: string) => {
    setSaid(words);
    clearTimeout(clock.current);
    clock.current = setTimeout(() => setSaid(""), 6000);
  }, []);
  return [said, tells];
}
