/**
 * "What does another file of this plant know that isn't here?": an office copy and one that went to the field, record by
 * record. Where both say something else one is chosen; then all of it is taken as one change.
 */
import { useEffect, useState } from "react";
import { KINDS } from "../../../core/model/dictionary.ts";
import type { AnswerOf, InputOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { useLongAct } from "../../client/use-long-act.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { PathChoice } from "../../controls/path-choice.tsx";
import { Refused } from "../../controls/refused.tsx";
import { notify } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { useStatus } from "../../frame/use-status.ts";
import { ChangeLines } from "../history/change-lines.tsx";
import type { ViewProps } from "../view.ts";
import { type Choice, ConflictList, LeftOut } from "./conflict-list.tsx";
import "./merge.css";

type Comparison = AnswerOf<"merge.compare">;

export function Merge({ values }: ViewProps) {
  const file = values.file ?? "";
  return file === "" ? (
    <Page
      sentence={<h1>{say`What does another file of this plant know that isn't here?`}</h1>}
      answer={say`Another file of this plant, such as the one that went to the field. Nothing is written before you have seen what it would change.`}
    >
      <div className="merge-empty">
        <PathChoice thing="file" what={say`Choose another file of this plant`} act={say`Compare`} value="" />
      </div>
    </Page>
  ) : (
    <Compared key={file} file={file} />
  );
}

function Compared({ file }: { readonly file: string }) {
  const [choices, setChoices] = useState<ReadonlyMap<string, Choice>>(new Map());
  const input: InputOf<"merge.compare"> = { file, choices: [...choices].map(([key, choice]) => ({ key, ...choice })) };
  const answer = useAnswer("merge.compare", input);
  const { again } = answer;
  // The other file may have changed since it was compared last: the window knows only of this one.
  useEffect(() => again(), [again]);
  const long = useLongAct();
  const [refused, setRefused] = useState<Failure | null>(null);
  const readOnly = useStatus()?.read_only ?? null;
  // While a choice is worked out the list stays: a list that goes takes the place of the focus with it.
  const [kept, setKept] = useState<Comparison | null>(null);
  useEffect(() => {
    if (answer.value) setKept(answer.value);
  }, [answer.value]);
  const compared = answer.value ?? kept;

  const write = async () => {
    if (!compared) return;
    setRefused(null);
    // What was chosen of a conflict that another choice leaves out is kept for when it comes back, and isn't written.
    const choices = input.choices?.filter(({ key }) => !compared.idle.includes(key));
    const reply = await long.run("merge.apply", { ...input, choices, seen: compared.seen });
    if (!reply) return;
    if (!reply.ok) setRefused(reply.error);
    else {
      setChoices(new Map());
      notify(say`${reply.value.summary}. One undo takes all of it back.`);
    }
  };
  // Where the file is named in the field below, the question has no blank for it: it is named in one place.
  if (!compared)
    return (
      <Page sentence={<h1>{say`What does another file of this plant know that isn't here?`}</h1>}>
        <Answered answer={answer} word={say`Comparing`}>
          {() => null}
        </Answered>
        <div className="merge-empty">
          <PathChoice thing="file" what={say`Choose another file of this plant`} act={say`Compare`} value={file} />
        </div>
      </Page>
    );
  const records = (compared.would?.counts ?? []).reduce((sum, one) => sum + one.added + one.changed + one.deleted, 0);
  // What was chosen is settled by the merge too where what stands here is kept and no record changes.
  const settles = compared.conflicts.some(({ take }) => take !== null);
  const lone = compared.left_out.filter((left) => !compared.conflicts.some(({ key }) => key === left.key));
  const stuck = compared.open > 0 || compared.hindrances.length > 0 || answer.error !== undefined;
  const choose = (keys: readonly string[], choice: Choice | null) =>
    setChoices((before) => {
      const after = new Map(before);
      for (const key of keys) {
        if (choice) after.set(key, choice);
        else after.delete(key);
      }
      return after;
    });
  return (
    <Page
      answer={sentenceOf(compared, records)}
      acts={
        readOnly || (records === 0 && !settles) ? null : (
          <Button filled disabled={stuck} busy={long.running ? say`Merging` : null} onClick={() => void write()}>
            {records === 0 ? say`Settle, and keep what is here` : say`Take ${counted(records, "record", "records")}`}
          </Button>
        )
      }
      leaf={<Sides compared={compared} />}
    >
      <Region name="ledger" label={say`What would be taken`} className="merge" reachable>
        {refused ? <Refused failure={refused} /> : null}
        {answer.error ? <Refused failure={answer.error} /> : null}
        {readOnly ? <p className="soft">{readOnly}</p> : null}
        {compared.hindrances.length > 0 ? (
          <ul className="merge-hindrances" aria-label={say`Why it can't be written so`}>
            {compared.hindrances.map(({ record, field, reason }) => (
              <li key={`${record} ${field} ${reason}`}>
                <b>{[record, field].filter(Boolean).join(", ")}</b> {reason}
              </li>
            ))}
          </ul>
        ) : null}
        {compared.conflicts.length > 0 ? (
          <ConflictList conflicts={compared.conflicts} left={compared.left_out} choices={choices} choose={choose} />
        ) : null}
        {lone.length > 0 ? (
          <section>
            <h2>{say`Not taken`}</h2>
            <LeftOut left={lone} label={say`Not taken`} />
          </section>
        ) : null}
        {compared.would && records > 0 ? (
          <section>
            <h2>{say`Would be taken`}</h2>
            <p className="soft">{countsOf(compared)}</p>
            <ChangeLines changes={compared.would.changes} linked={false} />
          </section>
        ) : null}
      </Region>
    </Page>
  );
}

function sentenceOf({ conflicts, open, hindrances }: Comparison, records: number): string {
  const real = conflicts.filter(({ offered }) => !offered).length;
  const many = counted(real, "conflict", "conflicts");
  const said =
    real === 0 ? "" : open === 0 ? say` ${many}, all chosen.` : say` ${many}, ${count(open)} still to be chosen.`;
  const stuck = hindrances.length > 0 ? say` It can't be written so; see why below.` : "";
  return `${records === 0 ? say`Nothing would be taken` : say`${counted(records, "record", "records")} would be added, changed or deleted`}.${said}${stuck}`;
}

const countsOf = ({ would }: Comparison): string =>
  (would?.counts ?? [])
    .flatMap(({ kind, added, changed, deleted }) => {
      const many = (n: number) => counted(n, KINDS[kind].one, KINDS[kind].many);
      return [
        added > 0 ? say`${many(added)} added` : "",
        changed > 0 ? say`${many(changed)} changed` : "",
        deleted > 0 ? say`${many(deleted)} deleted` : "",
      ];
    })
    .filter(Boolean)
    .join(", ");

function Sides({ compared }: { readonly compared: Comparison }) {
  const { ancestor, merged_before, here, there, alike, alike_named } = compared;
  const facts = (some: Comparison["here"]) =>
    some.length === 0 ? (
      <p className="soft">{say`nobody`}</p>
    ) : (
      <Facts>
        {some.map(({ author, change_sets }) => (
          <Fact key={author} name={author}>
            {counted(change_sets, "change", "changes")}
          </Fact>
        ))}
      </Facts>
    );
  return (
    <>
      <LeafHead tag={say`Parted after change ${ancestor.change_set}`}>{ancestor.summary}</LeafHead>
      {merged_before ? (
        <LeafPart
          title={
            merged_before.in === "here"
              ? say`Merged before, as change ${merged_before.change_set}`
              : say`Merged there before, as change ${merged_before.change_set}`
          }
        >
          <p>{merged_before.summary}</p>
          <p className="soft">
            {merged_before.in === "here"
              ? say`What was settled then isn't asked again, as long as they say the same. Undo that change to be asked anew.`
              : say`What was settled there is taken over and isn't asked again, as long as both say the same.`}
          </p>
        </LeafPart>
      ) : null}
      <LeafPart title={say`Since then here`}>{facts(here)}</LeafPart>
      <LeafPart title={say`Since then there`}>{facts(there)}</LeafPart>
      {alike > 0 ? (
        <LeafPart title={say`Alike`}>
          <p>{say`${count(alike)} entered in both files, alike: the same record.`}</p>
          <p className="soft">
            {alike_named.join(", ")}
            {alike > alike_named.length ? say` and ${count(alike - alike_named.length)} more` : ""}
          </p>
        </LeafPart>
      ) : null}
    </>
  );
}
