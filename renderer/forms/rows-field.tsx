/** A list of alike things in an act, one a line: groups of ports, stops of a cable, cords of a device. */
import { fieldOf, KINDS } from "../../core/model/dictionary.ts";
import { withArticle } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { useSettings } from "../client/settings.ts";
import { Button } from "../controls/button.tsx";
import type { Suggest } from "../grid/suggestions.ts";
import type { Blank } from "./act.ts";
import { BlankField } from "./blank-field.tsx";
import { labelled } from "./blanks.ts";
import type { FormRow } from "./input.ts";

interface Props {
  readonly name: string;
  readonly blank: Blank & { readonly as: "rows" | "overrides" };
  readonly rows: readonly FormRow[];
  readonly onRows: (rows: readonly FormRow[]) => void;
  readonly suggest: Suggest;
  /** Reasons by path, such as `stops.1.mark_in`. */
  readonly reasons: ReadonlyMap<string, readonly string[]>;
}

/** Fields of a type that a cable may have otherwise; three of them it has fields of its own for. */
const OVERRIDDEN = Object.fromEntries(
  Object.entries(KINDS.cable_type.fields)
    .filter(([id]) => !["tag", "basis", "basis_visit_id", "basis_paper_id", "notes"].includes(id))
    .filter(([id]) => !["colour_sequence", "unit_colours", "strand_colours"].includes(id))
    .map(([id, field]) => [id, field.label]),
);

const overrideColumns = (row: FormRow): Readonly<Record<string, Blank>> => {
  const field = fieldOf("cable_type", row.field ?? "");
  return {
    field: {
      as: "choice",
      values: OVERRIDDEN,
      label: say`field`,
      help: say`Which field of the type it has otherwise.`,
    },
    value:
      field && row.field
        ? { as: "field", kind: "cable_type", name: row.field, field, label: say`is`, help: field.help }
        : { as: "text", label: say`is`, help: say`What it is on this cable.` },
  };
};

export function RowsField({ name, blank, rows, onRows, suggest, reasons }: Props) {
  const { unit } = useSettings();
  const single = blank.as === "rows" && blank.single;
  const shown = rows.length === 0 && (blank.as === "rows" ? blank.required || single : false) ? [{}] : rows;
  const columnsOf = (row: FormRow) => (blank.as === "rows" ? blank.columns : overrideColumns(row));
  const change = (at: number, column: string, text: string) =>
    onRows(shown.map((row, index) => (index === at ? { ...row, [column]: text } : row)));
  const one = blank.as === "rows" ? blank.one : say`difference`;
  return (
    <div className="form-rows">
      {shown.length > 0 ? (
        <table>
          <thead>
            <tr>
              {single ? null : <th scope="col" aria-label={say`number`} />}
              {Object.entries(columnsOf(shown[0] ?? {})).map(([column, each]) => (
                <th key={column} scope="col" title={each.help}>
                  {labelled(each, unit)}
                </th>
              ))}
              <th scope="col" aria-label={say`take out`} />
            </tr>
          </thead>
          <tbody>
            {shown.map((row, at) => {
              const own = reasons.get(`${name}.${at}`) ?? [];
              const columns = Object.entries(columnsOf(row));
              const said = columns.flatMap(([column]) => reasons.get(`${name}.${at}.${column}`) ?? []);
              const all = [...own, ...said];
              return [
                // biome-ignore lint/suspicious/noArrayIndexKey: a line has no name but its place
                <tr key={at}>
                  {single ? null : <td className="form-row-number">{at + 1}</td>}
                  {columns.map(([column, each]) => (
                    <td key={column}>
                      <BlankField
                        blank={each}
                        value={row[column] ?? ""}
                        onChange={(text) => change(at, column, text)}
                        suggest={suggest}
                        label={`${each.label}, ${one} ${at + 1}`}
                        invalid={reasons.has(`${name}.${at}.${column}`)}
                      />
                    </td>
                  ))}
                  <td>
                    {single ? null : (
                      <button
                        type="button"
                        className="form-take-out"
                        aria-label={say`Take out ${one} ${at + 1}`}
                        onClick={() => onRows(shown.filter((_, index) => index !== at))}
                      >
                        {say`Take out`}
                      </button>
                    )}
                  </td>
                </tr>,
                all.length > 0 ? (
                  // biome-ignore lint/suspicious/noArrayIndexKey: the reasons of that line
                  <tr key={`${at} reasons`}>
                    <td colSpan={columns.length + 2} className="form-reason">
                      {all.join("; ")}
                    </td>
                  </tr>
                ) : null,
              ];
            })}
          </tbody>
        </table>
      ) : null}
      {single ? null : <Button onClick={() => onRows([...shown, {}])}>{say`Add ${withArticle(one)}`}</Button>}
    </div>
  );
}
