/** What would become of each row, refused ones first in their order; a row that isn't ticked is left out. */

import { FATE_WORDS } from "../../../core/model/wording.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { Because, FateTable } from "../../controls/fate-table.tsx";
import { count } from "../../controls/figures.ts";
import { FateMark } from "../../drawing/findings.tsx";
import type { SheetPlan } from "./mapping.ts";

interface Props {
  readonly plan: SheetPlan;
  readonly leaveOut: readonly number[];
  readonly choose: (rows: readonly number[]) => void;
}

export function SheetRows({ plan, leaveOut, choose }: Props) {
  const rows = [...plan.rows].sort((a, b) => Number(b.fate === "refused") - Number(a.fate === "refused"));
  return (
    <FateTable
      className="sheet-rows"
      heads={[say`take`, say`row`, say`fate`, say`understood as`, say`because`]}
      rows={rows}
    >
      {(row) => (
        <tr key={row.row}>
          <td>
            {row.fate === "refused" ? (
              <Button label={say`Leave out row ${row.row}`} onClick={() => choose([...leaveOut, row.row])}>
                {say`Leave out`}
              </Button>
            ) : (
              <input
                type="checkbox"
                aria-label={say`Take row ${row.row}`}
                checked={!leaveOut.includes(row.row)}
                onChange={() =>
                  choose(
                    leaveOut.includes(row.row) ? leaveOut.filter((one) => one !== row.row) : [...leaveOut, row.row],
                  )
                }
              />
            )}
          </td>
          <td className="figure">{count(row.row)}</td>
          <td className="row-fate">
            {row.fate === "left_out" ? (
              say`left out`
            ) : (
              <>
                <FateMark fate={row.fate} /> {FATE_WORDS[row.fate]}
              </>
            )}
          </td>
          <td>
            {row.words}
            {row.values.length > 0 ? (
              <span className="sheet-values">
                {row.values.map(({ label, value }) => (
                  <span key={label}>
                    <span className="soft">{label}</span> {value}
                  </span>
                ))}
              </span>
            ) : null}
          </td>
          <td>
            <Because problems={row.problems} notices={row.notices} />
          </td>
        </tr>
      )}
    </FateTable>
  );
}
