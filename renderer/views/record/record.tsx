/** "What is F-012?": a record's fields, what it rests on and what rests on it, its labels and history. */
import { useMemo, useState } from "react";
import { isKindName, KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { choiceWords } from "../../../core/model/wording.ts";
import type { Failure } from "../../../core/result.ts";
import type { RecordPage } from "../../../core/store/record-page.ts";
import { counted } from "../../../core/words/counted.ts";
import { capital, listed, withArticle } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { useAct } from "../../client/use-act.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Attached } from "../../controls/attached.tsx";
import { Button } from "../../controls/button.tsx";
import { LeafPart } from "../../controls/leaf.tsx";
import { NearBy } from "../../controls/near-by.tsx";
import { Said } from "../../controls/said.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { when } from "../../frame/ages.ts";
import { usePointedAt } from "../../frame/commands.ts";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, stillHere } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import type { ReadingHabits } from "../../grid/reading.ts";
import { today } from "../../grid/today.ts";
import { useFindingsOf } from "../check/findings-store.ts";
import { DeleteDialog } from "../enter/delete-dialog.tsx";
import { useGridCalls, useSuggest } from "../enter/use-table.ts";
import { ChangeLine } from "../history/change-lines.tsx";
import { LOSABLE } from "../impact/asked.ts";
import type { ViewProps } from "../view.ts";
import { Fields } from "./fields.tsx";
import { Resting, RestsOn } from "./resting.tsx";
import "./record.css";

export function RecordView({ values }: ViewProps) {
  const { kind, id, tag } = values;
  const known = kind && id && isKindName(kind) ? { kind, id: Number(id) } : null;
  // A tag that was typed is looked up first; more than one record may answer to it.
  const resolved = useAnswer("address.resolve", !known && tag ? { text: tag } : null);
  const matches = resolved.value?.matches ?? [];
  const [first] = matches;
  const asked = known ?? (matches.length === 1 && first ? { kind: first.kind, id: first.id } : null);
  const page = useAnswer("record.page", asked);
  if (!known && !tag)
    return <Page answer={say`Type a tag, or part of one, into the blank: a building, a cable, a port, a circuit.`} />;
  if (!asked && resolved.value && matches.length === 0)
    return (
      <Page answer={say`Nothing on record is called ${tag}.`}>
        <NearBy asked={tag ?? ""} />
      </Page>
    );
  if (!asked && resolved.value)
    return (
      <Page answer={say`${tag} may be any of ${matches.length} records.`}>
        <ul className="record-choice">
          {matches.map((match) => (
            <li key={`${match.kind} ${match.id}`}>
              {KINDS[match.kind].one} <TagLink record={match} />
            </li>
          ))}
        </ul>
      </Page>
    );
  if (!page.value)
    return (
      <Page {...(asked ? { sentence: <Question kind={asked.kind} address={tag || say`number ${asked.id}`} /> } : {})}>
        {asked ? (
          <>
            <Answered answer={page} word={say`Reading`}>
              {() => null}
            </Answered>
            {page.error ? <NearBy asked={tag ?? ""} kinds={[asked.kind]} /> : null}
          </>
        ) : (
          <Answered answer={resolved} word={say`Looking it up`}>
            {() => null}
          </Answered>
        )}
      </Page>
    );
  return <Shown key={`${page.value.kind} ${page.value.id}`} page={page.value} />;
}

function Shown({ page }: { readonly page: RecordPage }) {
  const { unit } = useSettings();
  const habits: ReadingHabits = useMemo(() => ({ today: today(), lengths: unit }), [unit]);
  const status = useStatus();
  const readOnly = status?.read_only ?? null;
  const calls = useGridCalls();
  const suggest = useSuggest();
  const { act } = useAct();
  /** What rests on it keeps it from being deleted, and whether the page is still the one on which that was asked. */
  const [kept, setKept] = useState<{ readonly failure: Failure; readonly still: () => boolean } | null>(null);
  const { kind, id, address } = page;
  usePointedAt({ kind, id, tag: address });

  const remove = async () => {
    const still = stillHere();
    const reply = await act("record.remove", { kind, ids: [id], revs: [page.rev] });
    if (!reply) return;
    if (reply.ok) {
      notify(say`${reply.value.summary}. Undo brings it back.`);
      if (still()) go("enter", { kind });
    } else if (reply.error.code === "rests_on") setKept({ failure: reply.error, still });
    else sayRefused(reply.error);
  };
  return (
    <Page
      sentence={<Question kind={kind} address={address} />}
      acts={
        <>
          {questionsFor(kind, address).map(({ words, href }) => (
            <a key={words} className="button" href={href}>
              {words}
            </a>
          ))}
          {readOnly ? null : <Button onClick={() => void remove()}>{say`Delete`}</Button>}
        </>
      }
      answer={<Answer page={page} />}
      leaf={<Beside page={page} />}
    >
      <div className="record">
        <Region name="ledger" label={say`Fields`} className="record-left">
          <Fields page={page} habits={habits} readOnly={readOnly} calls={calls} suggest={suggest} say={notify} />
        </Region>
        <div className="record-right">
          <section aria-labelledby="kept-with-it">
            <h2 id="kept-with-it">{say`Photos and files`}</h2>
            <Attached record={{ kind, id }} name={address} readOnly={readOnly} />
          </section>
          <section aria-labelledby="rests-on">
            <h2 id="rests-on">{say`What it rests on`}</h2>
            <RestsOn page={page} />
          </section>
          <section aria-labelledby="resting-on-it">
            <h2 id="resting-on-it">{say`What rests on it`}</h2>
            <Resting page={page} />
          </section>
        </div>
      </div>
      {kept ? (
        <DeleteDialog
          kind={kind}
          rows={[{ id, rev: page.rev, address, values: {}, shown: {} }]}
          failure={kept.failure}
          onDone={(said) => {
            notify(said);
            if (kept.still()) go("enter", { kind });
          }}
          onClose={() => setKept(null)}
        />
      ) : null}
    </Page>
  );
}

function Question({ kind, address }: { readonly kind: KindName; readonly address: string }) {
  // A description, such as a splice's, says itself what it is.
  if (address.startsWith(`${KINDS[kind].one} `)) return <h1>{sayWith`What is ${<b>{unbroken(address)}</b>}?`}</h1>;
  return <h1>{sayWith`What is ${KINDS[kind].one} ${<span className="tag strong">{address}</span>}?`}</h1>;
}

const TRACED: readonly KindName[] = ["port", "position", "strand", "section", "circuit", "interface"];
const HOLDS: Partial<Record<KindName, KindName>> = {
  building: "space",
  space: "panel",
  panel: "port",
  closure: "tray",
  tray: "splice",
  pathway: "conduit",
  cable: "strand",
  device: "port",
  module: "port",
};

const ON_PLAN: readonly KindName[] = ["building", "space", "pathway", "conduit", "cable", "circuit"];

function questionsFor(kind: KindName, address: string): { words: string; href: string }[] {
  const asked: { words: string; href: string }[] = [];
  if (TRACED.includes(kind)) asked.push({ words: say`Where does it go?`, href: addressOf("find", { of: address }) });
  if (kind === "building" || kind === "space")
    asked.push({ words: say`What feeds it?`, href: addressOf("feeds", { of: address }) });
  if (kind === "space")
    asked.push({ words: say`Take strands out of a cable here`, href: addressOf("breakout", { place: address }) });
  if (kind === "cable") asked.push({ words: say`See it drawn`, href: addressOf("cable", { of: address }) });
  if (kind === "pathway" || kind === "conduit")
    asked.push({ words: say`What lies in it?`, href: addressOf("pathway", { of: address }) });
  if (LOSABLE.includes(kind))
    asked.push({ words: say`What breaks with it?`, href: addressOf("impact", { of: address }) });
  if (kind === "building") asked.push({ words: say`What cuts it off?`, href: addressOf("ways", { of: address }) });
  if (ON_PLAN.includes(kind)) asked.push({ words: say`On the plan`, href: addressOf("plan", { of: address }) });
  const inside = HOLDS[kind];
  if (inside)
    asked.push({ words: say`Its ${KINDS[inside].many}`, href: addressOf("enter", { kind: inside, in: address }) });
  return asked;
}

/** What it is in one sentence, from what is known of it. */
function Answer({ page }: { readonly page: RecordPage }) {
  const { kind, fields, resting } = page;
  const name = fields.find((one) => one.field === "name")?.shown;
  const life = fields.find((one) => one.field === "life");
  const carried = resting.filter((group) => group.goes).slice(0, 3);
  return (
    <>
      {name ? (
        <>
          <b>{name}</b>:{" "}
        </>
      ) : null}
      {capital(withArticle(KINDS[kind].one))}
      {life?.value && life.value !== "in_place" ? `, ${life.shown}` : ""}
      {carried.length > 0
        ? say` that carries ${listed(carried.map((group) => counted(group.count, KINDS[group.kind].one, KINDS[group.kind].many)))}`
        : ""}
      . {KINDS[kind].help}
    </>
  );
}

function Beside({ page }: { readonly page: RecordPage }) {
  const findings = useFindingsOf(page.kind).get(page.id) ?? [];
  return (
    <>
      {findings.length > 0 ? (
        <LeafPart title={say`Findings`}>
          <ul className="leaf-findings">
            {findings.map((finding) => (
              <li key={`${finding.rule} ${finding.key}`}>
                <FindingMark shape={finding.severity} />
                <span>
                  <Said text={finding.sentence} records={finding.records} />{" "}
                  <a className="line-link" href={addressOf("check", { by: finding.rule })}>
                    {say`Open in Check`}
                  </a>
                </span>
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      <LeafPart title={say`Labels`}>
        {page.labels.length === 0 ? (
          <p className="soft">{say`No label of it is on record.`}</p>
        ) : (
          <ul className="leaf-list">
            {page.labels.map((label) => (
              <li key={label.id}>
                <TagLink
                  record={{ kind: "label", id: label.id, tag: label.address }}
                  words={String(label.values.text ?? say`without a text`)}
                />
                <span className="soft">
                  {[label.shown.space_id && say`at ${label.shown.space_id}`, stateOf(label.values.state)]
                    .filter(Boolean)
                    .join(", ")}
                </span>
              </li>
            ))}
          </ul>
        )}
      </LeafPart>
      <LeafPart title={say`History`}>
        {page.history.length === 0 ? <p className="soft">{say`Nothing is on record of how it came here.`}</p> : null}
        <ol className="record-history">
          {page.history.map((item) => (
            <li key={`${item.id}`} className={item.undone ? "undone" : ""}>
              <p className="record-history-head">
                <a className="link" href={addressOf("history", { at: String(item.id) })}>
                  {when(item.at)}
                </a>
                , {item.author}
                {item.undone ? say`, undone` : ""}
                {item.reason ? <span className="soft"> · {item.reason}</span> : null}
              </p>
              <ul className="changes narrow">
                <ChangeLine change={item.change} linked={false} />
              </ul>
            </li>
          ))}
        </ol>
      </LeafPart>
    </>
  );
}

/** What was last seen of a label. */
const stateOf = (state: unknown): string =>
  typeof state === "string" ? choiceWords("label", "state", state) : say`not seen yet`;
