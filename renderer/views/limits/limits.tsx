/** Which limits are in use? Each with its unit, edition, source, how it is known, and who put another in its place. */
import { useMemo } from "react";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { when } from "../../frame/ages.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { EditionLeaf } from "./edition-leaf.tsx";
import { LimitLeaf } from "./limit-leaf.tsx";
import {
  askedFor,
  editionHow,
  editionName,
  howWords,
  isEdition,
  type Limit,
  type Row,
  rowsOf,
  valueWords,
} from "./subjects.ts";
import "./limits.css";

const COLUMNS: readonly WalkedColumn<Row>[] = [
  {
    key: "meaning",
    head: say`limit`,
    show: (limit) => (
      <>
        {unbroken(limit.meaning ?? say`not said what for`)}
        <span className="limit-tag tag">{limit.tag}</span>
      </>
    ),
  },
  {
    key: "value",
    head: say`value`,
    className: "figure",
    show: (limit) =>
      isEdition(limit) ? (
        <span className="faint">{say`a choice`}</span>
      ) : (
        <>
          <b>{valueWords(limit.value, limit.unit)}</b>
          {limit.published === null ? null : (
            <span className="limit-under">{say`source: ${valueWords(limit.published, limit.unit)}`}</span>
          )}
        </>
      ),
  },
  {
    key: "source",
    head: say`source and edition`,
    show: (limit) =>
      isEdition(limit) ? (
        <>
          <b>{editionName(limit)}</b>
          {limit.own ? <span className="limit-under">{limit.reason ?? say`no reason given`}</span> : null}
          {limit.doubt ? <span className="limit-under">{limit.doubt}</span> : null}
        </>
      ) : (
        <>
          {limit.source}
          {limit.edition && !limit.source.includes(limit.edition) ? (
            <span className="limit-under">{limit.edition}</span>
          ) : null}
        </>
      ),
  },
  { key: "known", head: say`how known`, show: (limit) => (isEdition(limit) ? editionHow(limit) : howWords(limit)) },
  {
    key: "changed",
    head: say`changed`,
    show: (limit) =>
      limit.changed ? (
        <>
          {when(limit.changed.at)}
          <span className="limit-under">{limit.changed.by}</span>
        </>
      ) : (
        <span className="faint">{isEdition(limit) ? say`not chosen here` : say`as published`}</span>
      ),
  },
];

export function Limits({ values }: ViewProps) {
  const answer = useAnswer("standards.limits", {}, { kinds: ["limit_value"] });
  const all = useMemo(() => answer.value && rowsOf(answer.value), [answer.value]);
  const shown = useMemo(() => askedFor(all ?? [], values), [all, values]);
  if (!all)
    return (
      <Page>
        <Answered answer={answer} word={say`Reading the limits`}>
          {() => null}
        </Answered>
      </Page>
    );
  const selected = shown.find(({ tag }) => tag === values.at) ?? shown[0] ?? null;
  return (
    <Page
      answer={<Told shown={shown} all={all} />}
      acts={
        <a className="button" href={addressOf("enter", { kind: "limit_value" })}>
          {say`The plant's own, as a table`}
        </a>
      }
      leaf={selected ? <Leaf key={selected.tag} row={selected} /> : undefined}
    >
      <Region name="ledger" label={say`Limits`} className="half-ledger limits">
        {shown.length === 0 ? (
          <p className="limits-none">
            {sayWith`No limit fits. ${<a href={addressOf("limits")}>{say`Show every limit`}</a>}`}
          </p>
        ) : (
          <Walked
            label={say`Limits in use`}
            columns={COLUMNS}
            rows={shown}
            keyOf={({ tag }) => tag}
            selected={selected?.tag ?? null}
            onSelect={(at) => goWith({ at }, { replace: true })}
            onOpen={() => document.querySelector<HTMLElement>(".leaf-form input, .leaf-form select")?.focus()}
          />
        )}
      </Region>
    </Page>
  );
}

const Leaf = ({ row }: { readonly row: Row }) =>
  isEdition(row) ? <EditionLeaf row={row} /> : <LimitLeaf key={row.tag} limit={row} />;

const numbersAmong = (rows: readonly Row[]): readonly Limit[] => rows.flatMap((row) => (isEdition(row) ? [] : [row]));

/** How many, and how far they are to be trusted. */
function Told(rows: { readonly shown: readonly Row[]; readonly all: readonly Row[] }) {
  const [shown, all] = [numbersAmong(rows.shown), numbersAmong(rows.all)];
  const edition = rows.shown.find(isEdition);
  const own = shown.filter((limit) => limit.own).length;
  const weak = shown.filter(
    ({ own, how_known }) => !own && ["memory", "second_hand", "weak"].includes(how_known),
  ).length;
  const many = shown.length === all.length ? "" : say` of ${all.length}`;
  return (
    <>
      {counted(shown.length, "limit", "limits")}
      {say`${many}: ${own === 0 ? say`none` : own} set by the plant, the others as published`}
      {weak === 0
        ? "."
        : say`; ${weak} of them second-hand, from a weak source or from memory, to be held against the standard before anything is signed.`}
      {edition ? say` Links are accepted by ${editionName(edition)}, ${editionHow(edition)}.` : null}
    </>
  );
}
