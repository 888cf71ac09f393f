/** One limit: what it rests on, and the plant's own value in its place, with the reason. */
import { useState } from "react";
import { z } from "zod";
import { Fault } from "../../../core/model/clean-text.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { Refused } from "../../controls/refused.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { useKeptForm } from "../../forms/kept-form.ts";
import { editedOf, NotWritten, type WrittenOn, writtenOn } from "../../forms/written-on.tsx";
import { when } from "../../frame/ages.ts";
import { helpMark } from "../../frame/help-about.ts";
import { notify } from "../../frame/notices.tsx";
import { useStatus } from "../../frame/use-status.ts";
import { readNumber, shownNumber } from "../../grid/reading-numbers.ts";
import { backToRow } from "./back-to-row.ts";
import { howWords, type Limit, recordOf, valueWords } from "./subjects.ts";

export function LimitLeaf({ limit }: { readonly limit: Limit }) {
  const { record, changed, published, own } = limit;
  const readOnly = useStatus()?.read_only ?? null;
  return (
    <>
      <LeafHead
        tag={record ? <TagLink record={record} strong /> : <span className="tag strong limit-name">{limit.tag}</span>}
      >
        {limit.meaning}
      </LeafHead>
      <Facts>
        <Fact name={say`In use`}>
          <b>{valueWords(limit.value, limit.unit)}</b>
          {own ? say`, set by the plant` : say`, as published`}
        </Fact>
        <Fact name={say`Published`}>
          {own ? (published === null ? say`no value on the list` : valueWords(published, limit.unit)) : null}
        </Fact>
        <Fact name={say`Source`}>{limit.source}</Fact>
        <Fact name={say`Edition`}>{limit.edition ?? say`not given`}</Fact>
        <Fact name={say`Known`}>{howWords(limit)}</Fact>
        <Fact name={say`Why`}>{own ? (limit.reason ?? say`no reason given`) : null}</Fact>
        <Fact name={say`Changed`}>{changed ? `${when(changed.at)}, ${changed.by}` : null}</Fact>
      </Facts>
      {readOnly ? null : (
        <LeafPart title={own ? say`Another value of the plant's own` : say`Use a value of the plant's own`}>
          <OwnValue limit={limit} />
        </LeafPart>
      )}
      {own && !readOnly ? <TakeBack limit={limit} /> : null}
    </>
  );
}

/** What is typed in place of a limit, as it is kept. */
const own = z.object({ value: z.string(), why: z.string(), source: z.string(), on: writtenOn });
type Own = z.output<typeof own>;

function OwnValue({ limit }: { readonly limit: Limit }) {
  const { act, running } = useAct();
  const now: Own = {
    value: limit.own ? shownNumber(limit.value) : "",
    why: limit.own ? (limit.reason ?? "") : "",
    source: "",
    on: recordOf(limit),
  };
  const kept = useKeptForm<Own>(`limit ${limit.tag}`, say`A value of the plant's own for ${limit.tag}`, now, own);
  const { value, why, source, on } = kept.value;
  const type = (change: Partial<Own>) => kept.type((before) => ({ ...before, ...change }));
  const [faults, setFaults] = useState<{ readonly value?: string; readonly why?: string }>({});
  const [failure, setFailure] = useState<Failure | null>(null);

  const leave = (): void => {
    kept.end(now);
    setFailure(null);
  };
  const write = async (read: WrittenOn): Promise<void> => {
    const number = value.trim() === "" ? null : readNumber(value, "none", "m");
    const wrong = {
      ...(number === null ? { value: say`The value is missing.` } : {}),
      ...(number instanceof Fault ? { value: say`The value ${number.reason}.` } : {}),
      ...(why.trim() === "" ? { why: say`Say why, so that whoever meets the number can judge it.` } : {}),
    };
    setFaults(wrong);
    setFailure(null);
    if (typeof number !== "number" || wrong.why) {
      document.querySelector<HTMLElement>(wrong.value ? ".leaf-form input" : ".leaf-form textarea")?.focus();
      return;
    }
    const values = {
      value: number,
      reason: why.trim(),
      how_known: "policy",
      ...(source.trim() === "" ? {} : { source: source.trim() }),
    };
    const reply = read
      ? await act("record.edit", { kind: "limit_value", ...read, values }, { reason: why.trim() })
      : await act(
          "record.add",
          {
            kind: "limit_value",
            values: {
              ...values,
              ...{
                tag: limit.tag,
                published: limit.published ?? limit.value,
                unit: limit.unit,
                meaning: limit.meaning,
              },
            },
          },
          { reason: why.trim() },
        );
    if (!reply) return;
    if (reply.ok) {
      kept.end({ ...kept.value, source: "" });
      notify(say`${limit.tag} is ${valueWords(number, limit.unit)} here. Undo brings the other value back.`);
      backToRow();
    } else setFailure(reply.error);
  };

  return (
    <form
      className="leaf-form"
      onSubmit={(event) => {
        event.preventDefault();
        void write(editedOf(on, recordOf(limit)));
      }}
      noValidate
    >
      <label>
        <span>{say`Value${limit.unit ? say`, in ${limit.unit}` : ""}`}</span>
        <input
          {...helpMark("limit_value", "value")}
          value={value}
          onChange={(event) => type({ value: event.target.value })}
          inputMode="decimal"
          autoComplete="off"
          aria-invalid={faults.value !== undefined}
          aria-describedby={faults.value ? "limit-value-why" : undefined}
        />
      </label>
      {faults.value ? (
        <p className="leaf-fault" id="limit-value-why">
          {faults.value}
        </p>
      ) : null}
      <label>
        <span>{say`Why`}</span>
        <textarea
          {...helpMark("limit_value", "reason")}
          value={why}
          rows={2}
          maxLength={400}
          onChange={(event) => type({ why: event.target.value })}
          aria-invalid={faults.why !== undefined}
          aria-describedby={faults.why ? "limit-why-why" : undefined}
        />
      </label>
      {faults.why ? (
        <p className="leaf-fault" id="limit-why-why">
          {faults.why}
        </p>
      ) : null}
      <label>
        <span>{say`Where it comes from, if from a paper`}</span>
        <input
          {...helpMark("limit_value", "source")}
          value={source}
          onChange={(event) => type({ source: event.target.value })}
          maxLength={400}
          autoComplete="off"
        />
      </label>
      <Button submit filled busy={running > 0 ? say`Writing` : null}>
        {say`Use this value`}
      </Button>
      {failure ? <NotWritten failure={failure} onLeave={leave} onOver={(read) => void write(read)} /> : null}
    </form>
  );
}

function TakeBack({ limit }: { readonly limit: Limit }) {
  const { act, running } = useAct();
  const [failure, setFailure] = useState<Failure | null>(null);
  const { record, published, tag, changed } = limit;
  if (!record) return null;
  const takeBack = async (): Promise<void> => {
    const reply = await act("record.remove", {
      ...{ kind: "limit_value", ids: [record.id] },
      ...(changed ? { revs: [changed.rev] } : {}),
    });
    if (!reply) return;
    if (reply.ok) {
      notify(say`The plant's own ${tag} is taken back. Undo sets it again.`);
      backToRow();
    } else setFailure(reply.error);
  };
  return (
    <LeafPart>
      <p className="soft">
        {published === null
          ? say`No published value stands behind it: taken back, what needs it is not known.`
          : say`Taken back, ${valueWords(published, limit.unit)} holds again where that is published.`}
      </p>
      <div className="leaf-acts">
        <Button onClick={() => void takeBack()} busy={running > 0 ? say`Taking it back` : null}>
          {say`Take the plant's value back`}
        </Button>
      </div>
      {failure ? <Refused failure={failure} /> : null}
    </LeafPart>
  );
}
