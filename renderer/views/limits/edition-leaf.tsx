/** The edition by which links are accepted: chosen here with a reason, and taken back. */
import { useState } from "react";
import { z } from "zod";
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
import { backToRow } from "./back-to-row.ts";
import { type EditionRow, editionHow, editionName, recordOf } from "./subjects.ts";

export function EditionLeaf({ row }: { readonly row: EditionRow }) {
  const { record, own, reason, doubt, changed } = row;
  const readOnly = useStatus()?.read_only ?? null;
  return (
    <>
      <LeafHead
        tag={record ? <TagLink record={record} strong /> : <span className="tag strong limit-name">{row.tag}</span>}
      >
        {row.meaning}
      </LeafHead>
      <Facts>
        <Fact name={say`In use`}>
          <b>{editionName(row)}</b>, {editionHow(row)}
        </Fact>
        <Fact name={say`Why`}>{own ? (reason ?? say`no reason given`) : null}</Fact>
        <Fact name={say`In doubt`}>{doubt}</Fact>
        <Fact name={say`Changed`}>{changed ? `${when(changed.at)}, ${changed.by}` : null}</Fact>
      </Facts>
      <p className="leaf-words">
        {say`It settles what an end joint, a joint and a kilometre of glass may lose when a link is accepted. A question that names an edition of its own is answered by that one.`}
      </p>
      {readOnly ? null : (
        <LeafPart title={record ? say`Another edition` : say`Choose the plant's edition`}>
          <Choose row={row} />
        </LeafPart>
      )}
      {record && !readOnly ? <TakeBack row={row} /> : null}
    </>
  );
}

/** What is chosen and typed, as it is kept. */
const choice = z.object({ edition: z.string(), why: z.string(), on: writtenOn });
type Choice = z.output<typeof choice>;

function Choose({ row }: { readonly row: EditionRow }) {
  const { act, running } = useAct();
  const now: Choice = { edition: row.edition, why: row.own ? (row.reason ?? "") : "", on: recordOf(row) };
  const kept = useKeptForm<Choice>(`edition ${row.tag}`, say`The edition by which links are accepted`, now, choice);
  const { edition, why, on } = kept.value;
  const [fault, setFault] = useState<string | null>(null);
  const [failure, setFailure] = useState<Failure | null>(null);

  const leave = (): void => {
    kept.end(now);
    setFailure(null);
  };
  const write = async (read: WrittenOn): Promise<void> => {
    const reason = why.trim();
    setFault(reason === "" ? say`Say why, so that whoever meets the choice can judge it.` : null);
    setFailure(null);
    if (reason === "") {
      document.querySelector<HTMLElement>(".leaf-form textarea")?.focus();
      return;
    }
    const chosen = row.editions.find((one) => one.edition === edition);
    const values = { edition: chosen?.name ?? edition, reason, how_known: "policy" };
    const reply = read
      ? await act("record.edit", { kind: "limit_value", ...read, values }, { reason })
      : await act(
          "record.add",
          { kind: "limit_value", values: { ...values, tag: row.tag, meaning: row.meaning } },
          { reason },
        );
    if (!reply) return;
    if (reply.ok) {
      kept.end(kept.value);
      notify(say`Links are accepted by ${chosen?.words ?? edition} here. Undo brings the other edition back.`);
      backToRow();
    } else setFailure(reply.error);
  };

  return (
    <form
      className="leaf-form"
      onSubmit={(event) => {
        event.preventDefault();
        void write(editedOf(on, recordOf(row)));
      }}
      noValidate
    >
      <label>
        <span>{say`Edition`}</span>
        <select
          {...helpMark("limit_value", "edition")}
          value={edition}
          onChange={({ target }) => kept.type((before) => ({ ...before, edition: target.value }))}
        >
          {row.editions.map((one) => (
            <option key={one.edition} value={one.edition}>
              {one.words}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>{say`Why`}</span>
        <textarea
          {...helpMark("limit_value", "reason")}
          value={why}
          rows={2}
          maxLength={400}
          onChange={({ target }) => kept.type((before) => ({ ...before, why: target.value }))}
          aria-invalid={fault !== null}
          aria-describedby={fault ? "limit-why-why" : undefined}
        />
      </label>
      {fault ? (
        <p className="leaf-fault" id="limit-why-why">
          {fault}
        </p>
      ) : null}
      <Button submit filled busy={running > 0 ? say`Writing` : null}>
        {say`Use this edition`}
      </Button>
      {failure ? <NotWritten failure={failure} onLeave={leave} onOver={(read) => void write(read)} /> : null}
    </form>
  );
}

function TakeBack({ row }: { readonly row: EditionRow }) {
  const { act, running } = useAct();
  const [failure, setFailure] = useState<Failure | null>(null);
  const { record, changed } = row;
  if (!record) return null;
  const takeBack = async (): Promise<void> => {
    const reply = await act("record.remove", {
      ...{ kind: "limit_value", ids: [record.id] },
      ...(changed ? { revs: [changed.rev] } : {}),
    });
    if (!reply) return;
    if (reply.ok) {
      notify(say`The plant's choice of an edition is taken back. Undo sets it again.`);
      backToRow();
    } else setFailure(reply.error);
  };
  return (
    <LeafPart>
      <p className="soft">{say`Taken back, the newest edition on the list is in use.`}</p>
      <div className="leaf-acts">
        <Button onClick={() => void takeBack()} busy={running > 0 ? say`Taking it back` : null}>
          {say`Take the plant's choice back`}
        </Button>
      </div>
      {failure ? <Refused failure={failure} /> : null}
    </LeafPart>
  );
}
