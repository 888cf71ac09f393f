/** Strands spliced to those of other cables, at the places of this one: the trays there are offered with their room. */
import { useAnswer } from "../../client/use-answer.ts";
import { Field, focusField } from "./field.tsx";
import { TakeOut } from "./landings-table.tsx";
import { within } from "./stops-table.tsx";
import { Beside, useAnyTold } from "./told.tsx";
import { nextSplice, type SpliceRow, type TypedRun } from "./typed.ts";

interface Props {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
}

const LABELS = { at: "at", strands: "strands", side: "half", to: "to", tray: "tray" } as const;

export function SplicesTable({ typed, type }: Props) {
  const { splices } = typed;
  const put = (next: readonly SpliceRow[]) => type({ ...typed, splices: next });
  const rows = [...splices, nextSplice(typed)];
  return (
    <table className="run-rows run-splices">
      <thead>
        <tr>
          {Object.values(LABELS).map((label) => (
            <th key={label} scope="col">
              {label}
            </th>
          ))}
          <th scope="col">
            <span className="hush">take out</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row, at) => (
          <Splice
            // biome-ignore lint/suspicious/noArrayIndexKey: a row has no name but its place
            key={at}
            {...{ typed, row, at }}
            fresh={at === splices.length}
            set={(change) => put([...splices.slice(0, at), { ...row, ...change }, ...splices.slice(at + 1)])}
            takeOut={() => put(splices.filter((_, index) => index !== at))}
          />
        ))}
      </tbody>
    </table>
  );
}

interface RowProps {
  readonly typed: TypedRun;
  readonly row: SpliceRow;
  readonly at: number;
  readonly fresh: boolean;
  readonly set: (change: Partial<SpliceRow>) => void;
  readonly takeOut: () => void;
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
      aside: capacity === null ? `${held} in it` : `${held} of ${capacity} in it`,
    })),
  );
  const field = (name: Exclude<keyof SpliceRow, "side">, more: object = {}) => (
    <td>
      <Field
        at={`${path}.${name}`}
        row={path}
        label={`${LABELS[name]}, splices ${at + 1}`}
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
        <td>{fresh ? null : <TakeOut label={`Take out splices ${at + 1}`} takeOut={takeOut} />}</td>
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
  if (stop < 0 || outer) return <span className="soft">its end</span>;
  const towards = (space: string | undefined, otherwise: string) => `towards ${space || otherwise}`;
  return (
    <select
      className="form-input"
      aria-label={`${LABELS.side}, splices ${at + 1}`}
      value={row.side}
      onChange={(event) => set({ side: event.target.value as SpliceRow["side"] })}
    >
      <option value="A">{towards(typed.stops[0]?.space, "the first place")}</option>
      <option value="B">{towards(typed.stops.at(-1)?.space, "the last place")}</option>
    </select>
  );
}
