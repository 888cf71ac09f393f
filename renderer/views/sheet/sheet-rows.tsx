/** What would become of each row, refused ones first in their order; a row that isn't ticked is left out. */
import { useState } from "react";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { FateMark } from "../../drawing/findings.tsx";
import type { SheetPlan } from "./mapping.ts";

interface Props {
  readonly plan: SheetPlan;
  readonly leaveOut: readonly number[];
  readonly choose: (rows: readonly number[]) => void;
}

const FIRST = 200;

export function SheetRows({ plan, leaveOut, choose }: Props) {
  const [most, setMost] = useState(FIRST);
  const rows = [...plan.rows].sort((a, b) => Number(b.fate === "refused") - Number(a.fate === "refused"));
  return (
    <>
      <table className="sheet-rows">
        <thead>
          <tr>
            <th scope="col">{say`take`}</th>
            <th scope="col" className="figure">
              {say`row`}
            </th>
            <th scope="col">{say`fate`}</th>
            <th scope="col">{say`understood as`}</th>
            <th scope="col">{say`because`}</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, most).map((row) => (
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
                    <FateMark fate={row.fate} /> {row.fate}
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
                {row.problems.map(({ field, record, reason }) => (
                  <span key={`${field} ${record} ${reason}`} className="line-why">
                    {field ? <b>{field} </b> : null}
                    {record ? <span className="tag">{record} </span> : null}
                    {reason}
                  </span>
                ))}
                {row.notices.map((notice) => (
                  <span key={notice} className="line-why">
                    {notice}
                  </span>
                ))}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > most ? (
        <Button
          onClick={() => setMost(most + FIRST)}
        >{say`Show ${count(Math.min(FIRST, rows.length - most))} more`}</Button>
      ) : null}
    </>
  );
}
