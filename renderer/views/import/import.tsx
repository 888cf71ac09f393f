/** "If this folder were read, what would change?": rehearsed row by row, then exactly that is written, with one undo. */

import { useEffect, useState } from "react";
import type { FolderRehearsal } from "../../../core/operations/subjects/exchange.ts";
import type { Failure } from "../../../core/result.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { useLongAct } from "../../client/use-long-act.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { PathChoice } from "../../controls/path-choice.tsx";
import { Refused } from "../../controls/refused.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { Waiting } from "../../controls/waiting.tsx";
import { FateMark } from "../../drawing/findings.tsx";
import { notify } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import type { ViewProps } from "../view.ts";
import { FatesBar } from "./fates-bar.tsx";
import { RowFates } from "./row-fates.tsx";
import "./import.css";

export function Import({ values }: ViewProps) {
  const folder = values.folder ?? "";
  const rehearsal = useAnswer("exchange.rehearse", folder ? { folder } : null);
  const { again } = rehearsal;
  // The folder may have changed since it was rehearsed last: the window knows only when the plant does.
  useEffect(() => {
    if (folder) again();
  }, [folder, again]);
  const long = useLongAct();
  const [refused, setRefused] = useState<Failure | null>(null);
  const status = useStatus();
  const readOnly = status?.read_only ?? null;
  const plan = rehearsal.value;
  const writable = plan ? plan.totals.new + plan.totals.changed : 0;

  const write = async (only: boolean) => {
    if (!plan) return;
    setRefused(null);
    const reply = await long.run("exchange.import", {
      folder,
      digest: plan.digest,
      ...(only ? { valid_rows_only: true } : {}),
    });
    if (!reply) return;
    if (!reply.ok) {
      setRefused(reply.error);
      return;
    }
    const { new: added, changed } = reply.value.answer.totals;
    notify(say`${counted(added + changed, "row", "rows")} written. One undo takes all of it back.`);
  };

  if (!folder)
    return (
      <Page
        sentence={<h1>{say`If a folder were read, what would change?`}</h1>}
        answer={say`A folder of CSV files, one for each kind of record. Nothing is written before you have seen what each row would do.`}
      >
        <div className="import-empty">
          <PathChoice thing="folder" what={say`Choose a folder`} value="" act={say`Rehearse it`} />
          <p className="soft">
            {say`To see the form such files have,`}{" "}
            <a className="link" href={addressOf("export")}>
              {say`write this plant to a folder`}
            </a>{" "}
            {say`first: what is read back unchanged changes nothing.`}
          </p>
        </div>
      </Page>
    );
  return (
    <Page
      acts={
        plan && !long.running ? (
          <>
            <Button onClick={() => go("import")}>{say`Another folder`}</Button>
            {plan.totals.refused > 0 && writable > 0 ? (
              <Button disabled={readOnly !== null} onClick={() => void write(true)}>
                {say`Write the ${count(writable)} that can be read`}
              </Button>
            ) : null}
            <Button
              filled
              disabled={readOnly !== null || writable === 0 || plan.totals.refused > 0}
              onClick={() => void write(false)}
              {...(plan.totals.refused > 0 ? { title: say`First correct the refused rows, or leave them out.` } : {})}
            >
              {writable === 0 ? say`Nothing to write` : say`Write ${counted(writable, "row", "rows")}`}
            </Button>
          </>
        ) : undefined
      }
      answer={plan ? <Said plan={plan} readOnly={readOnly} /> : ""}
    >
      {long.running ? (
        <Waiting word={say`Writing`} since={long.running.since} progress={long.running.progress} stop={long.stop} />
      ) : (
        <>
          {refused ? (
            <Refused failure={refused}>
              <Button onClick={() => rehearsal.again()}>{say`Rehearse it again`}</Button>
            </Refused>
          ) : null}
          <Answered answer={rehearsal} word={say`Reading the folder`}>
            {(shown) => <Shown plan={shown} />}
          </Answered>
        </>
      )}
    </Page>
  );
}

function Said({ plan, readOnly }: { readonly plan: FolderRehearsal; readonly readOnly: string | null }) {
  const { totals } = plan;
  if (totals.rows === 0) return <>{say`There are no rows in this folder.`}</>;
  if (totals.new + totals.changed + totals.refused === 0)
    return (
      <>
        {sayWith`${<b>{say`${counted(totals.rows, "row", "rows")}, all as on record.`}</b>} Reading it changes nothing.`}
      </>
    );
  return (
    <>
      {counted(totals.rows, "row", "rows")}: <b>{say`${count(totals.new)} new, ${count(totals.changed)} changed`}</b>
      {say`, ${count(totals.same)} same`}
      {totals.refused > 0 ? <b>{say`, ${count(totals.refused)} refused`}</b> : null}
      {say`. Nothing is written yet. ${readOnly ?? say`Writing is one act, and one undo takes it back.`}`}
    </>
  );
}

function Shown({ plan }: { readonly plan: FolderRehearsal }) {
  return (
    <div className="import">
      <nav className="import-files" aria-label={say`Files`}>
        <table>
          <thead>
            <tr>
              <th scope="col">{say`file`}</th>
              <th scope="col" className="figure">
                <FateMark fate="new" />
                <span className="hush">{say`new`}</span>
              </th>
              <th scope="col" className="figure">
                <FateMark fate="changed" />
                <span className="hush">{say`changed`}</span>
              </th>
              <th scope="col" className="figure">
                <FateMark fate="same" />
                <span className="hush">{say`same`}</span>
              </th>
              <th scope="col" className="figure">
                <FateMark fate="refused" />
                <span className="hush">{say`refused`}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {plan.files.map((file) => (
              <tr key={file.file}>
                <th scope="row" className="tag">
                  {file.file}
                </th>
                {(["new", "changed", "same", "refused"] as const).map((fate) => (
                  <td key={fate} className="figure">
                    {file[fate] === 0 ? "" : count(file[fate])}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </nav>
      <Region name="ledger" label={say`What would become of the rows`} className="import-rows">
        <FatesBar totals={plan.totals} />
        <RowFates plan={plan} />
      </Region>
    </div>
  );
}
