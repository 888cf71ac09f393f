/** Panels and cases that are named and not on record: made only where that is said, one by one. */
import { CONNECTORS } from "../../../core/model/lists.ts";
import { RUN_HELP } from "../../../core/run-entry/help.ts";
import { say } from "../../../core/words/say.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { Field, thenFocus } from "./field.tsx";
import { Beside, useAnyTold } from "./told.tsx";
import type { MakeRow, RunPlan, TypedRun } from "./typed.ts";

interface Props {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
  readonly missing: RunPlan["missing"];
}

const WORDS = { panel: say`panel`, closure: say`case` } as const;

export function MakeList({ typed, type, missing }: Props) {
  const { make } = typed;
  const put = (next: readonly MakeRow[]) => type({ ...typed, make: next });
  // What was just said to be made is still missing in the answer before.
  const lacking = missing.filter(
    ({ kind, address }) => !make.some((one) => one.kind === kind && one.address === address),
  );
  if (make.length + lacking.length === 0) return null;
  return (
    <section aria-labelledby="run-make" className="run-make">
      <h2 id="run-make">{say`Named here, not on record`}</h2>
      <ul>
        {make.map((row, at) => (
          <Made
            key={`${row.kind} ${row.address}`}
            {...{ row, at }}
            set={(change) => put(make.map((one, index) => (index === at ? { ...one, ...change } : one)))}
            leave={() => put(make.filter((_, index) => index !== at))}
          />
        ))}
        {lacking.map(({ kind, address, at }) => (
          <li key={`${kind} ${address}`}>
            <label>
              <input
                type="checkbox"
                checked={false}
                onChange={() => {
                  const numbers = kind === "panel" ? portsTyped(typed, at) : "";
                  const made = { kind, address, numbers, connector: "", capacity: "" };
                  thenFocus(() => put([...make, made]), `make.${make.length}.numbers`);
                }}
              />
              <span>{sayWith`make ${WORDS[kind]} ${<span className="tag">{address}</span>}`}</span>
            </label>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** The ports on which strands are landed where the panel is named, as they are typed there. */
const portsTyped = ({ landings }: TypedRun, at: readonly string[]): string =>
  landings
    .filter(({ ports }, row) => at.includes(`landings.${row}.panel`) && ports.trim() !== "")
    .map(({ ports }) => ports.trim())
    .join(", ");

interface MadeProps {
  readonly row: MakeRow;
  readonly at: number;
  readonly set: (change: Partial<MakeRow>) => void;
  readonly leave: () => void;
}

function Made({ row, at, set, leave }: MadeProps) {
  const path = `make.${at}`;
  const told = useAnyTold(path);
  const panel = row.kind === "panel";
  return (
    <li>
      <label>
        <input type="checkbox" checked onChange={leave} />
        <span>{sayWith`make ${WORDS[row.kind]} ${<span className="tag">{row.address}</span>}`}</span>
      </label>
      <Field
        at={`${path}.numbers`}
        row={path}
        label={panel ? say`Ports of ${row.address}` : say`Trays of ${row.address}`}
        value={row.numbers}
        onChange={(numbers) => set({ numbers })}
        placeholder={panel ? say`ports, such as 01..24` : say`trays, such as T1..T4`}
        mono
      />
      {panel ? (
        <select
          className="form-input"
          aria-label={say`Plug of ${row.address}`}
          title={RUN_HELP["make.connector"]}
          value={row.connector}
          onChange={(event) => set({ connector: event.target.value })}
        >
          <option value="">{say`Which plug?`}</option>
          {Object.entries(CONNECTORS).map(([value, words]) => (
            <option key={value} value={value}>
              {words}
            </option>
          ))}
        </select>
      ) : (
        <Field
          at={`${path}.capacity`}
          row={path}
          label={say`Splices that a tray of ${row.address} takes`}
          value={row.capacity}
          onChange={(capacity) => set({ capacity })}
          placeholder={say`splices a tray`}
          size={12}
        />
      )}
      {told ? <Beside row={path} /> : null}
    </li>
  );
}
