/** "Write the whole plant to this folder": CSV files, one a kind, with W3C metadata; read back, it is the same plant. */
import { useState } from "react";
import type { AnswerOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { onDesktop } from "../../capabilities/browser.ts";
import { useClient } from "../../client/context.ts";
import { useLongAct } from "../../client/use-long-act.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { PathChoice } from "../../controls/path-choice.tsx";
import { Refused } from "../../controls/refused.tsx";
import { Waiting } from "../../controls/waiting.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import "./import.css";

export function Export({ values }: ViewProps) {
  const folder = values.folder ?? "";
  const client = useClient();
  const long = useLongAct();
  const [shielded, setShielded] = useState(false);
  const [written, setWritten] = useState<AnswerOf<"exchange.export"> | null>(null);
  const [refused, setRefused] = useState<Failure | null>(null);
  const write = async () => {
    setRefused(null);
    setWritten(null);
    const reply = await long.run("exchange.export", { folder, ...(shielded ? { for_spreadsheet: true } : {}) });
    if (!reply) return;
    if (reply.ok) setWritten(reply.value);
    else setRefused(reply.error);
  };
  return (
    <Page
      {...(folder ? {} : { sentence: <h1>{say`Write the whole plant to a folder`}</h1> })}
      acts={
        folder && !long.running ? (
          <Button filled onClick={() => void write()}>
            {say`Write it`}
          </Button>
        ) : undefined
      }
      answer={
        written
          ? say`${counted(written.rows, "row", "rows")} written to ${counted(written.files.length, "file", "files")}.`
          : say`CSV files, one for each kind of record, keyed by tags, with a description of their columns beside them.`
      }
    >
      {long.running ? (
        <Waiting word={say`Writing`} since={long.running.since} progress={long.running.progress} stop={long.stop} />
      ) : (
        <Region name="ledger" label={say`Export`} className="import-empty">
          {folder ? (
            <label className="export-shield">
              <input type="checkbox" checked={shielded} onChange={(event) => setShielded(event.target.checked)} />
              <span>
                {say`For a spreadsheet program: cells that it would run as formulas get an apostrophe, which reading the folder takes off again.`}
              </span>
            </label>
          ) : (
            <PathChoice thing="folder" what={say`Choose a folder`} value="" act={say`Take this folder`} />
          )}
          {refused ? <Refused failure={refused} /> : null}
          {written ? (
            <>
              <p className="export-ways">
                {onDesktop() ? (
                  <Button
                    onClick={() => void client.capabilities.reveal(written.folder)}
                  >{say`Show the folder`}</Button>
                ) : null}
                <a className="button" href={addressOf("import", { folder: written.folder })}>
                  {say`Rehearse reading it back`}
                </a>
              </p>
              <div className="import-files by-itself">
                <table>
                  <tbody>
                    {written.files.map((file) => (
                      <tr key={file.file}>
                        <th scope="row" className="tag">
                          {file.file}
                        </th>
                        <td className="figure">{count(file.rows)}</td>
                      </tr>
                    ))}
                  </tbody>
                </table>
              </div>
            </>
          ) : null}
        </Region>
      )}
    </Page>
  );
}
