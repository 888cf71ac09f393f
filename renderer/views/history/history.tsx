/** "What did anyone change?": every change set with who, when, why, before and after; taken back or brought back from here. */
import { useState } from "react";
import { Fault } from "../../../core/model/clean-text.ts";
import { KIND_NAMES, KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { shownDay } from "../../../core/model/wording.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAct } from "../../client/use-act.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { Refused } from "../../controls/refused.tsx";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import { readDay } from "../../grid/reading-days.ts";
import { today } from "../../grid/today.ts";
import type { ViewProps } from "../view.ts";
import { ChangeLines } from "./change-lines.tsx";
import { type HistoryItem, useHistory } from "./use-history.ts";
import "./history.css";

const AT = new Intl.DateTimeFormat("en-GB", {
  day: "numeric",
  month: "short",
  year: "numeric",
  hour: "2-digit",
  minute: "2-digit",
});

const VERBS = { do: "", undo: say`undo`, redo: say`redo` } as const;

/** What is asked of: a kind by its name ("cables"), else a record or a range by its address. */
function askedOf(of: string | undefined): { kind?: KindName; of?: string } {
  const text = of?.trim();
  if (!text) return {};
  const named = (kind: KindName): readonly string[] => [KINDS[kind].one, KINDS[kind].many];
  const kind = KIND_NAMES.find((one) => named(one).includes(text.toLowerCase()));
  return kind ? { kind } : { of: text };
}

export function History({ values }: ViewProps) {
  const since = values.since ? readDay(values.since, today()) : null;
  const until = values.until ? readDay(values.until, today()) : null;
  const wrong =
    since instanceof Fault ? say`Since ${since.reason}.` : until instanceof Fault ? say`Until ${until.reason}.` : null;
  const { items, error, earlier } = useHistory({
    ...(values.by ? { author: values.by } : {}),
    ...askedOf(values.of),
    ...(typeof since === "string" ? { since } : {}),
    ...(typeof until === "string" ? { until } : {}),
  });
  const status = useStatus();
  const chosen = items?.find((item) => String(item.id) === values.at) ?? items?.[0] ?? null;
  const canTakeBack = status?.past
    ? `${status.past}.`
    : status?.read_only
      ? ""
      : say`Each can be taken back as long as nothing later touched its records.`;
  return (
    <Page
      answer={
        wrong
          ? wrong
          : items === null
            ? ""
            : items.length === 0
              ? say`Nothing was changed.`
              : say`${earlier ? say`The last ${count(items.length)}` : counted(items.length, "change", "changes")}, the newest first. ${canTakeBack}`
      }
      acts={
        <>
          <a className="button" href={addressOf("compare")}>
            {say`Compare two moments`}
          </a>
          <a className="button" href={addressOf("merge")}>
            {say`Merge another file`}
          </a>
        </>
      }
      leaf={chosen ? <ChangeLeaf item={chosen} items={items ?? []} /> : undefined}
    >
      {error ? <Refused failure={error} /> : null}
      <Region name="ledger" label={say`Changes`} className="history">
        <table>
          <thead>
            <tr>
              <th scope="col">{say`when`}</th>
              <th scope="col">{say`who`}</th>
              <th scope="col">{say`what`}</th>
              <th scope="col" className="figure">
                {say`records`}
              </th>
              <th scope="col">{say`why`}</th>
            </tr>
          </thead>
          <tbody>
            {items?.map((item) => (
              <tr
                key={item.id}
                className={[item.undone ? "undone" : "", item === chosen ? "chosen" : ""].join(" ").trim()}
              >
                <td>{AT.format(new Date(item.at))}</td>
                <td>{item.author}</td>
                <td>
                  <a
                    className="history-what"
                    href={addressOf("history", { ...values, at: String(item.id) })}
                    onClick={(event) => {
                      event.preventDefault();
                      goWith({ at: String(item.id) }, { replace: true });
                    }}
                    {...(item === chosen ? { "aria-current": "true" } : {})}
                  >
                    {item.summary}
                  </a>
                  {item.undone ? <span className="soft">{say` · taken back`}</span> : null}
                </td>
                <td className="figure">{count(item.records)}</td>
                <td className="history-why">
                  {[item.reason, item.meaning === "correction" ? say`the record had been wrong` : null]
                    .filter(Boolean)
                    .join(" · ")}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {earlier ? (
          <p className="history-earlier">
            <Button onClick={earlier}>{say`Show earlier changes`}</Button>
          </p>
        ) : null}
      </Region>
    </Page>
  );
}

function ChangeLeaf({ item, items }: { readonly item: HistoryItem; readonly items: readonly HistoryItem[] }) {
  const status = useStatus();
  const { act, running } = useAct();
  const [busy, setBusy] = useState<string | null>(null);
  const readOnly = status?.read_only ?? null;
  const restore = async (name: "history.undo" | "history.redo", target?: number): Promise<boolean> => {
    const reply = await act(name, target === undefined ? {} : { change_set: target });
    if (!reply) return false;
    if (reply.ok) notify(`${reply.value.summary}.`);
    else sayRefused(reply.error);
    return reply.ok;
  };
  /** Acts after this one that are in effect: as many steps back lead to it. */
  const after = items.filter((one) => one.id >= item.id && one.verb === "do" && !one.undone);
  const backToHere = async () => {
    for (const [done] of after.entries()) {
      setBusy(say`Taking back ${done + 1} of ${after.length}`);
      if (!(await restore("history.undo"))) break;
    }
    setBusy(null);
  };
  return (
    <>
      <LeafHead tag={item.summary}>
        {VERBS[item.verb] ? say`${VERBS[item.verb]} of change ${item.target_id}` : say`change ${item.id}`}
      </LeafHead>
      <LeafPart>
        <Facts>
          <Fact name={say`when`}>{AT.format(new Date(item.at))}</Fact>
          <Fact name={say`who`}>{item.author}</Fact>
          <Fact name={say`why`}>{item.reason}</Fact>
          <Fact name={say`it says`}>
            {item.meaning === "correction" ? say`the record had been wrong` : say`the plant changed`}
          </Fact>
          <Fact name={say`since`}>{item.day ? shownDay(item.day) : null}</Fact>
          <Fact name={say`records`}>{count(item.records)}</Fact>
        </Facts>
        {readOnly || item.verb !== "do" ? null : (
          <div className="history-ways">
            {item.undone ? (
              <Button
                busy={running > 0 ? say`Bringing it back` : null}
                onClick={() => void restore("history.redo", item.id)}
              >
                {say`Bring it back`}
              </Button>
            ) : (
              <>
                <Button
                  busy={busy ?? (running > 0 ? say`Taking it back` : null)}
                  onClick={() => void restore("history.undo", item.id)}
                >
                  {say`Take it back`}
                </Button>
                {after.length > 1 && busy === null ? (
                  <Button onClick={() => void backToHere()}>{say`Take back all ${count(after.length)} since`}</Button>
                ) : null}
              </>
            )}
          </div>
        )}
      </LeafPart>
      <LeafPart>
        <div className="history-ways">
          <a className="button" href={addressOf("compare", { from: `change ${item.id}` })}>
            {say`What changed since`}
          </a>
          <a
            className="button"
            href={addressOf("history", { since: item.at.slice(0, 10), until: item.at.slice(0, 10) })}
          >
            {say`All of that day`}
          </a>
          <a className="button" href={addressOf("history", { by: item.author })}>
            {say`All by this person`}
          </a>
        </div>
      </LeafPart>
      <LeafPart title={say`Before and after`}>
        <Changes key={item.id} id={item.id} />
      </LeafPart>
    </>
  );
}

type Shown = AnswerOf<"history.show">;

function Changes({ id }: { readonly id: number }) {
  const [from, setFrom] = useState<NonNullable<Shown["next"]> | null>(null);
  const page = useAnswer("history.show", { id, ...(from ? { from } : {}), limit: 60 }, { kinds: [] });
  return (
    <Answered answer={page} word={say`Reading`}>
      {(shown) => (
        <>
          {shown.changes.length === 0 ? <p className="soft">{say`It changed no record.`}</p> : null}
          <div className="history-changes">
            <ChangeLines changes={shown.changes} />
          </div>
          <div className="history-ways">
            {from ? <Button onClick={() => setFrom(null)}>{say`From the first`}</Button> : null}
            {shown.next ? <Button onClick={() => setFrom(shown.next)}>{say`The next ones`}</Button> : null}
          </div>
        </>
      )}
    </Answered>
  );
}
