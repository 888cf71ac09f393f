/** Rows by their fate, refused first: the same reason once with how many rows it has, then the rows themselves. */
import { type ReactNode, useState } from "react";
import { fieldOf, type KindName, type Value } from "../../../core/model/dictionary.ts";
import type { LengthUnit } from "../../../core/model/units.ts";
import { shownValue } from "../../../core/model/wording.ts";
import type { FolderRehearsal } from "../../../core/operations/subjects/exchange.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { FateMark } from "../../drawing/findings.tsx";
import { wordsIn } from "../../grid/showing.ts";
import { FieldChange } from "../history/change-lines.tsx";

const FIRST = 12;

export function RowFates({ plan }: { readonly plan: FolderRehearsal }) {
  const { unit } = useSettings();
  const kindOf = new Map(plan.files.map((file) => [file.file, file.kind]));
  const alike = plan.reasons.filter((group) => group.rows > 1);
  return (
    <>
      {alike.length > 0 ? (
        <section aria-labelledby="alike">
          <h2 id="alike">{say`The same reason in many rows`}</h2>
          <ul className="reasons">
            {alike.slice(0, FIRST).map((group) => (
              <li key={`${group.file} ${group.field} ${group.first_row}`}>
                <FateMark fate="refused" />
                <span>
                  {sayWith`${<b>{counted(group.rows, "row", "rows")}</b>} of ${<span className="tag">{group.file}</span>}, the first row ${group.first_row}: `}
                  {group.field ? <b>{group.field}</b> : null} {group.reason}
                </span>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <Rows
        fate="refused"
        total={plan.totals.refused}
        rows={plan.refused.map((problem) => ({
          key: JSON.stringify(problem),
          file: problem.file ?? "",
          row: problem.row ?? null,
          record: problem.record ?? "",
          says: (
            <>
              {problem.field ? <b>{problem.field}</b> : null} {problem.reason}
            </>
          ),
        }))}
      />
      <Rows
        fate="changed"
        total={plan.totals.changed}
        rows={plan.changed.map((row) => ({
          key: `${row.file} ${row.row}`,
          file: row.file,
          row: row.row,
          record: row.record,
          says: row.fields.map((field) => (
            <span key={field.field} className="change-field">
              <span className="faint">{field.label}</span>{" "}
              <FieldChange
                before={shown(kindOf.get(row.file), field.field, field.before, unit)}
                after={shown(kindOf.get(row.file), field.field, field.after, unit)}
              />
            </span>
          )),
        }))}
      />
      <Rows
        fate="new"
        total={plan.totals.new}
        rows={plan.added.map((row) => ({
          key: `${row.file} ${row.row}`,
          file: row.file,
          row: row.row,
          record: row.record,
          says: null,
        }))}
      />
    </>
  );
}

/** A value in words; a record by its number where no name is told. */
function shown(kind: KindName | undefined, name: string, value: Value, unit: LengthUnit): string | null {
  const field = kind && fieldOf(kind, name);
  if (value === null || !field || !kind) return value === null ? null : String(value);
  return wordsIn(
    kind,
    name,
    shownValue(field, value, (id) => say`record ${id}`),
    unit,
  );
}

interface Row {
  readonly key: string;
  readonly file: string;
  readonly row: number | null;
  readonly record: string;
  readonly says: ReactNode;
}

const ROWS = { refused: say`Refused rows`, changed: say`Changed rows`, new: say`New rows` } as const;

function Rows(props: {
  readonly fate: "refused" | "changed" | "new";
  readonly total: number;
  readonly rows: readonly Row[];
}) {
  const { fate, total, rows } = props;
  const [most, setMost] = useState(fate === "refused" ? 40 : FIRST);
  if (total === 0) return null;
  const some = rows.slice(0, most);
  return (
    <section aria-label={ROWS[fate]}>
      <table className="row-fates">
        <thead>
          <tr>
            <th scope="col">{say`fate`}</th>
            <th scope="col">{say`file`}</th>
            <th scope="col" className="figure">
              {say`row`}
            </th>
            <th scope="col">{say`record`}</th>
            <th scope="col">{fate === "refused" ? say`why not` : fate === "changed" ? say`what would change` : ""}</th>
          </tr>
        </thead>
        <tbody>
          {some.map((row) => (
            <tr key={row.key}>
              <td className="row-fate">
                <FateMark fate={fate} /> {fate}
              </td>
              <td className="tag">{row.file}</td>
              <td className="figure">{row.row === null ? "" : count(row.row)}</td>
              <td>
                <span className="tag">{row.record}</span>
              </td>
              <td>{row.says}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > most ? (
        <Button
          onClick={() => setMost((before) => before + 200)}
        >{say`Show ${count(Math.min(200, rows.length - most))} more`}</Button>
      ) : total > rows.length ? (
        <p className="soft row-rest">{say`and ${count(total - rows.length)} more like these`}</p>
      ) : null}
    </section>
  );
}
