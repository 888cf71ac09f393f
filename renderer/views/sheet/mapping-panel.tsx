/** Which column of the sheet is which; what stands for every row; units and days. */
import type { ReactNode } from "react";
import { say } from "../../../core/words/say.ts";
import { Region } from "../../frame/region.tsx";
import { type Mapping, type ReadSheet, shapeOf } from "./mapping.ts";
import { Choice } from "./reading-panel.tsx";

interface Props {
  readonly read: ReadSheet;
  readonly mapping: Mapping;
  readonly change: (mapping: Mapping) => void;
  /** Another worksheet or shape: the sheet is read anew. */
  readonly readAnew: (sheet: string, shape: string) => void;
  /** How it is read, above its columns. */
  readonly children: ReactNode;
}

export function MappingPanel({ read, mapping, change, readAnew, children }: Props) {
  const shape = shapeOf(read, mapping.shape);
  return (
    <Region name="drawing" label={say`Columns`} className="sheet-mapping">
      {children}
      {read.sheets.length > 1 ? (
        <Choice label={say`worksheet`} value={mapping.sheet} choose={(sheet) => readAnew(sheet, "")}>
          {read.sheets.map(({ name, rows }) => (
            <option key={name} value={name}>
              {name} ({rows})
            </option>
          ))}
        </Choice>
      ) : null}
      <Choice label={say`kind of sheet`} value={mapping.shape} choose={(name) => readAnew(mapping.sheet, name)}>
        {mapping.shape === "" ? <option value="">{say`Which kind?`}</option> : null}
        {read.shapes.map(({ name, title }) => (
          <option key={name} value={name}>
            {title}
          </option>
        ))}
      </Choice>
      {shape ? (
        <>
          <p className="soft">{shape.help}</p>
          <table className="sheet-columns">
            <thead>
              <tr>
                <th scope="col">{say`what`}</th>
                <th scope="col">{say`column of the sheet`}</th>
                <th scope="col">{say`or for every row`}</th>
              </tr>
            </thead>
            <tbody>
              {shape.columns.map((column) => (
                <ColumnRow key={column.name} {...{ column, read, mapping, change }} />
              ))}
            </tbody>
          </table>
          <NotTaken read={read} mapping={mapping} />
          <Choice
            label={say`3/4/2026 means`}
            value={mapping.days}
            choose={(days) => change({ ...mapping, days: days as Mapping["days"] })}
          >
            <option value="">{say`asked where it is met`}</option>
            <option value="day_first">{say`3 April`}</option>
            <option value="month_first">{say`4 March`}</option>
          </Choice>
        </>
      ) : null}
      {read.notices.map((notice) => (
        <p key={notice} className="soft">
          {notice}
        </p>
      ))}
    </Region>
  );
}

/** Columns that would be left behind in the sheet, by name. */
function NotTaken({ read, mapping }: Pick<Props, "read" | "mapping">) {
  const taken = new Set(Object.values(mapping.columns));
  const seen = shapeOf(read, mapping.shape)?.seen ?? [];
  const left = read.heading.columns.filter(
    ({ letters, heading, first }) =>
      !taken.has(letters) &&
      !seen.includes(heading.trim().toLowerCase()) &&
      (heading !== "" || first.some((cell) => cell !== "")),
  );
  if (left.length === 0) return null;
  return (
    <p>
      {say`Not taken over, as no column above is it: ${left.map(({ heading, letters }) => heading || letters).join(", ")}.`}
    </p>
  );
}

type Column = ReadSheet["shapes"][number]["columns"][number];

function ColumnRow({
  column,
  read,
  mapping,
  change,
}: Omit<Props, "readAnew" | "children"> & { readonly column: Column }) {
  const { name, label, help, needed, unit } = column;
  const own = mapping.columns[name] ?? "";
  return (
    <tr>
      <th scope="row" title={help}>
        {label}
        {needed ? <b title={say`needed`}> *</b> : null}
      </th>
      <td>
        <select
          className="form-input"
          aria-label={say`Column of ${label}`}
          value={own}
          onChange={(event) => change({ ...mapping, columns: { ...mapping.columns, [name]: event.target.value } })}
        >
          <option value="">{say`none`}</option>
          {read.heading.columns.map(({ letters, heading }) => (
            <option key={letters} value={letters}>
              {heading ? `${heading} (${letters})` : letters}
            </option>
          ))}
        </select>
        {unit && own ? (
          <select
            className="form-input"
            aria-label={say`Unit of ${label}`}
            value={mapping.units[name] ?? "m"}
            onChange={(event) =>
              change({ ...mapping, units: { ...mapping.units, [name]: event.target.value as "m" | "ft" } })
            }
          >
            <option value="m">{say`metres`}</option>
            <option value="ft">{say`feet`}</option>
          </select>
        ) : null}
      </td>
      <td>
        <input
          className="form-input"
          aria-label={say`${label} for every row`}
          value={mapping.fixed[name] ?? ""}
          spellCheck={false}
          onChange={(event) => change({ ...mapping, fixed: { ...mapping.fixed, [name]: event.target.value } })}
        />
      </td>
    </tr>
  );
}
