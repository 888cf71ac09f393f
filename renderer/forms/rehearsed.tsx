/** Beside the form: what would change, what to mind, and why it can't be done. */
import { KINDS } from "../../core/model/dictionary.ts";
import type { Failure, Problem } from "../../core/result.ts";
import type { Written } from "../../core/store/written.ts";
import { counted } from "../../core/words/counted.ts";
import { listed } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { count } from "../controls/figures.ts";
import { FindingMark } from "../drawing/findings.tsx";
import { ChangeLines } from "../views/history/change-lines.tsx";

export interface RehearsedProps {
  readonly missing: readonly string[];
  readonly written: Written<unknown> | null;
  readonly failure: Failure | null;
  readonly elsewhere: readonly Problem[];
  readonly cautions: readonly string[];
  readonly busy: boolean;
}

/** So many changes are written out; the counts tell of all. */
const SHOWN = 40;

export function Rehearsed({ missing, written, failure, elsewhere, cautions, busy }: RehearsedProps) {
  return (
    <div className="rehearsed" aria-busy={busy}>
      {cautions.map((caution) => (
        <p key={caution} className="caution">
          <FindingMark shape="caution" />
          <span>{caution}</span>
        </p>
      ))}
      <h2>{say`What would change`}</h2>
      {missing.length > 0 ? (
        <p className="soft">{say`Fill ${listed(missing)}, and what would change stands here before anything is written.`}</p>
      ) : failure ? (
        <div role="alert" className="rehearsed-refused">
          <p>
            <FindingMark shape="error" /> <b>{failure.message}</b>
          </p>
          <ul>
            {elsewhere.map((problem) => (
              <li key={JSON.stringify(problem)}>
                {problem.row === undefined ? "" : say`Row ${problem.row}: `}
                {problem.record ? <span className="tag">{problem.record}</span> : null} {problem.field} {problem.reason}
              </li>
            ))}
          </ul>
        </div>
      ) : written ? (
        <>
          <p className="rehearsed-summary">
            <b>{written.summary}.</b>{" "}
            {written.counts.length === 0 ? say`It is on record already: nothing would be written.` : countsOf(written)}
          </p>
          {written.notices.map((notice) => (
            <p key={notice} className="caution">
              <FindingMark shape="warning" />
              <span>{notice}</span>
            </p>
          ))}
          <ChangeLines changes={written.changes.slice(0, SHOWN)} linked={false} />
          {total(written) > SHOWN ? <p className="soft">{say`and ${count(total(written) - SHOWN)} more`}</p> : null}
        </>
      ) : (
        <p className="soft" role="status">
          {busy ? say`Rehearsing` : ""}
        </p>
      )}
    </div>
  );
}

const total = (written: Written<unknown>): number =>
  written.counts.reduce((sum, one) => sum + one.added + one.changed + one.deleted, 0);

function countsOf(written: Written<unknown>): string {
  const part = (what: "added" | "changed" | "deleted", words: string): string[] => {
    const some = written.counts.filter((one) => one[what] > 0);
    if (some.length === 0) return [];
    return [`${listed(some.map((one) => counted(one[what], KINDS[one.kind].one, KINDS[one.kind].many)))} ${words}`];
  };
  return `${listed([...part("added", "added"), ...part("changed", "changed"), ...part("deleted", "deleted")])}.`;
}
