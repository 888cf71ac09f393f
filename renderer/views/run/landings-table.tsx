/** Strands landed at the cable's two ends: the panels of the room are offered, and its first free ports for just so many. */
import { KINDS } from "../../../core/model/dictionary.ts";
import { RUN_HELP } from "../../../core/run-entry/help.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Field, focusField, thenFocus } from "./field.tsx";
import { within } from "./stops-table.tsx";
import { Beside, useAnyTold, useTold } from "./told.tsx";
import { type LandingRow, nextLanding, portsFor, strandCount, type TypedRun } from "./typed.ts";
import { TakeOut, type TypedRow, TypedRows } from "./typed-rows.tsx";

interface Props {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
}

const LABELS = {
  end: say`end`,
  strands: say`strands`,
  panel: say`panel`,
  ports: say`ports`,
  method: say`how`,
} as const;
const METHODS = KINDS.termination.fields.method.values;

export function LandingsTable({ typed, type }: Props) {
  return (
    <TypedRows
      className="run-landings"
      heads={Object.values(LABELS)}
      rows={typed.landings}
      next={nextLanding(typed)}
      put={(landings) => type({ ...typed, landings })}
    >
      {(one) => <Landing key={one.at} typed={typed} {...one} />}
    </TypedRows>
  );
}

interface RowProps extends TypedRow<LandingRow> {
  readonly typed: TypedRun;
}

function Landing({ typed, row, at, fresh, set, takeOut }: RowProps) {
  const space = (row.end === "A" ? typed.stops[0] : typed.stops.at(-1))?.space.trim() ?? "";
  const there = useAnswer("run.offers", space ? { place: space } : null).value;
  const path = `landings.${at}`;
  const told = useAnyTold(path);
  const asked = strandCount(row.strands);
  const panels = (there?.panels ?? []).map(({ panel, ports, free }) => ({
    ...{ text: within(panel.tag, space), found: null, aside: say`${free.length} of ${ports} ports free` },
    free,
  }));
  const field = (name: "strands" | "panel" | "ports", more: object = {}) => (
    <td>
      <Field
        at={`${path}.${name}`}
        row={path}
        label={say`${LABELS[name]}, landing ${at + 1}`}
        value={row[name]}
        onChange={(text) => set({ [name]: text })}
        onEnter={() => focusField(`landings.${at + 1}.strands`)}
        mono
        {...more}
      />
    </td>
  );
  return (
    <>
      <tr>
        <td>
          <select
            className="form-input"
            aria-label={say`${LABELS.end}, landing ${at + 1}`}
            title={RUN_HELP["landings.end"]}
            value={row.end}
            onChange={(event) => set({ end: event.target.value as LandingRow["end"] })}
          >
            <option value="A">A, {typed.stops[0]?.space || say`first place`}</option>
            <option value="B">B, {(typed.stops.length > 1 && typed.stops.at(-1)?.space) || say`last place`}</option>
          </select>
        </td>
        {field("strands", { placeholder: fresh ? "1-24" : "" })}
        {field("panel", {
          offers: panels,
          onTaken: (choice: (typeof panels)[number]) => {
            const ports = row.ports || (asked === null ? null : portsFor(choice.free ?? [], asked)) || "";
            thenFocus(() => set({ panel: choice.text, ports }), `${path}.ports`);
          },
        })}
        {field("ports", { placeholder: fresh ? "01-12" : "" })}
        <td>
          <Method {...{ row, at, path, set }} />
        </td>
        <td>{fresh ? null : <TakeOut label={say`Take out landing ${at + 1}`} takeOut={takeOut} />}</td>
      </tr>
      {told ? (
        <tr>
          <td colSpan={6}>
            <Beside row={path} labels={LABELS} />
          </td>
        </tr>
      ) : null}
    </>
  );
}

function Method({ row, at, path, set }: Pick<RowProps, "row" | "at" | "set"> & { readonly path: string }) {
  const told = useTold(`${path}.method`, path);
  return (
    <select
      className="form-input"
      aria-label={say`${LABELS.method}, landing ${at + 1}`}
      title={RUN_HELP["landings.method"]}
      value={row.method}
      onChange={(event) => set({ method: event.target.value })}
      {...told}
    >
      <option value="">{say`not known`}</option>
      {Object.entries(METHODS).map(([value, words]) => (
        <option key={value} value={value}>
          {words}
        </option>
      ))}
    </select>
  );
}
