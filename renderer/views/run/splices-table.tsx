/** Strands spliced to those of other cables, at the places of this one: the trays there are offered with their room. */
import { RUN_HELP } from "../../../core/run-entry/help.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Field, focusField } from "./field.tsx";
import { within } from "./stops-table.tsx";
import { Beside, useAnyTold } from "./told.tsx";
import { nextSplice, type SpliceRow, type TypedRun } from "./typed.ts";
import { TakeOut, type TypedRow, TypedRows } from "./typed-rows.tsx";

interface Props {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
}

const LABELS = { at: say`at`, strands: say`strands`, side: say`half`, to: say`to`, tray: say`tray` } as const;

export function SplicesTable({ typed, type }: Props) {
  return (
    <TypedRows
      className="run-splices"
      heads={Object.values(LABELS)}
      rows={typed.splices}
      next={nextSplice(typed)}
      put={(splices) => type({ ...typed, splices })}
    >
      {(one) => <Splice key={one.at} typed={typed} {...one} />}
    </TypedRows>
  );
}

interface RowProps extends TypedRow<SpliceRow> {
  readonly typed: TypedRun;
}

function Splice({ typed, row, at, fresh, set, takeOut }: RowProps) {
  const space = row.at.trim();
  const there = useAnswer("run.offers", space ? { place: space } : null).value;
  const path = `splices.${at}`;
  const told = useAnyTold(path);
  const places = [...new Set(typed.stops.flatMap((stop) => (stop.space ? [stop.space] : [])))];
  const trays = (there?.cases ?? []).flatMap(({ trays: own }) =>
    own.map(({ tray, held, capacity }) => ({
      ...{ text: within(tray.tag, space), found: null },
      aside: capacity === null ? say`${held} in it` : say`${held} of ${capacity} in it`,
    })),
  );
  const field = (name: Exclude<keyof SpliceRow, "side">, more: object = {}) => (
    <td>
      <Field
        at={`${path}.${name}`}
        row={path}
        label={say`${LABELS[name]}, splices ${at + 1}`}
        value={row[name]}
        onChange={(text) => set({ [name]: text })}
        onEnter={() => focusField(`splices.${at + 1}.strands`)}
        mono
        {...more}
      />
    </td>
  );
  return (
    <>
      <tr>
        {field("at", { offers: places.map((text) => ({ text, found: null, aside: null })) })}
        {field("strands", { placeholder: fresh ? "25-36" : "" })}
        <td>
          <Half {...{ typed, row, at, set }} />
        </td>
        {field("to", { placeholder: fresh ? "F-021:1-12" : "" })}
        {field("tray", { offers: trays })}
        <td>{fresh ? null : <TakeOut label={say`Take out splices ${at + 1}`} takeOut={takeOut} />}</td>
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

/** Strands that are cut here have two ends here: which of them is spliced. */
function Half({ typed, row, at, set }: Pick<RowProps, "typed" | "row" | "at" | "set">) {
  const stop = typed.stops.findIndex(({ space }) => space !== "" && space === row.at.trim());
  const outer = stop === 0 || stop === typed.stops.length - 1;
  if (stop < 0 || outer) return <span className="soft">{say`its end`}</span>;
  const towards = (space: string | undefined, otherwise: string) => say`towards ${space || otherwise}`;
  return (
    <select
      className="form-input"
      aria-label={say`${LABELS.side}, splices ${at + 1}`}
      title={RUN_HELP["splices.side"]}
      value={row.side}
      onChange={(event) => set({ side: event.target.value as SpliceRow["side"] })}
    >
      <option value="A">{towards(typed.stops[0]?.space, say`the first place`)}</option>
      <option value="B">{towards(typed.stops.at(-1)?.space, say`the last place`)}</option>
    </select>
  );
}
