/** What circuits lose once a mend is carried out, the most urgent first. */
import type { MendLoss } from "../../../core/repair/answer.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { Heads } from "../../controls/heads.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";

const RUNS = { yes: say`yes`, no: say`no`, cannot_tell: say`can't be told` } as const;

export function Losses({
  losses,
  failed_before,
}: {
  readonly losses: readonly MendLoss[];
  /** Those that didn't run before either. */
  readonly failed_before: readonly RecordRef[];
}) {
  const decibels = (db: number | null, complete = true): string =>
    db === null ? say`not known` : asKnown(`${db.toFixed(2)}\u202fdB`, complete);
  return (
    <table className="mend-losses">
      <Heads
        of={[say`circuit`, say`before the cut`, say`afterwards`, say`at worst`, say`carries`, say`runs at worst`]}
      />
      <tbody>
        {losses.map((loss) => (
          <tr key={loss.circuit.id}>
            <th scope="row">
              <TagLink record={loss.circuit} />
              {failed_before.some(({ id }) => id === loss.circuit.id) ? say` (failed before the cut too)` : ""}
            </th>
            <td>{decibels(loss.before_db)}</td>
            <td>{decibels(loss.loss_db, loss.complete)}</td>
            <td>{decibels(loss.worst_db, loss.complete)}</td>
            <td>{unbroken(loss.application ?? say`not on record`)}</td>
            <td>
              {loss.runs_at_worst === "no" ? <FindingMark shape="error" /> : null}
              {loss.runs_at_worst === "cannot_tell" ? <FindingMark shape="gap" /> : null}{" "}
              {unbroken(
                [loss.runs_at_worst && RUNS[loss.runs_at_worst], ...loss.reasons.slice(0, 1)]
                  .filter(Boolean)
                  .join(": "),
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
