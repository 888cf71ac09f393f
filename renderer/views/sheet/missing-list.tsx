/** Places, panels, cases, trays and circuits that the sheet names and the record hasn't: made only where that is ticked. */
import { KINDS } from "../../../core/model/dictionary.ts";
import { CONNECTORS } from "../../../core/model/lists.ts";
import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { FateMark } from "../../drawing/findings.tsx";
import type { Made, SheetPlan } from "./mapping.ts";

interface Props {
  readonly plan: SheetPlan;
  readonly create: readonly Made[];
  readonly choose: (create: readonly Made[]) => void;
}

export function MissingList({ plan, create, choose }: Props) {
  if (plan.missing.length === 0) return null;
  return (
    <section aria-labelledby="missing">
      <h2 id="missing">{say`Named in the sheet, not on record`}</h2>
      <ul className="sheet-missing">
        {plan.missing.map(({ kind, address, rows, ports }) => {
          const own = create.find((one) => one.kind === kind && one.address === address);
          const others = create.filter((one) => one !== own);
          const made = plan.made.find((one) => one.kind === kind && one.address === address);
          return (
            <li key={`${kind} ${address}`}>
              <label>
                <input
                  type="checkbox"
                  checked={own !== undefined}
                  onChange={() => choose(own ? others : [...others, { kind, address }])}
                />
                <span>
                  {sayWith`make ${WORDS[kind]} ${<span className="tag">{address}</span>}`}
                  <span className="soft">
                    {" "}
                    {plural(rows.length, "in {0} row", "in {0} rows")}
                    {ports.length > 0
                      ? `, ${kind === "closure" ? "trays" : "ports"} ${ports.slice(0, 4).join(", ")}${ports.length > 4 ? ", ..." : ""}`
                      : ""}
                  </span>
                </span>
              </label>
              {own && kind === "space" ? (
                <select
                  className="form-input"
                  aria-label={say`Kind of ${address}`}
                  value={own.space_kind ?? ""}
                  onChange={(event) => choose([...others, { kind, address, ...kindGiven(event.target.value) }])}
                >
                  <option value="">{say`kind not known`}</option>
                  {Object.entries(KINDS.space.fields.kind.values).map(([value, words]) => (
                    <option key={value} value={value}>
                      {words}
                    </option>
                  ))}
                </select>
              ) : null}
              {own && kind === "panel" ? (
                <select
                  className="form-input"
                  aria-label={say`Plug of ${address}`}
                  value={own.connector ?? ""}
                  onChange={(event) => choose([...others, { kind, address, ...plugGiven(event.target.value) }])}
                >
                  <option value="">{say`Which plug?`}</option>
                  {Object.entries(CONNECTORS).map(([value, words]) => (
                    <option key={value} value={value}>
                      {words}
                    </option>
                  ))}
                </select>
              ) : null}
              {own && (kind === "closure" || kind === "tray") ? (
                <input
                  className="form-input"
                  aria-label={
                    kind === "tray" ? say`Splices that ${address} takes` : say`Splices that a tray of ${address} takes`
                  }
                  placeholder={say`splices a tray takes`}
                  inputMode="numeric"
                  value={own.capacity ?? ""}
                  onChange={(event) => choose([...others, { kind, address, ...capacityGiven(event.target.value) }])}
                />
              ) : null}
              {made?.fate === "refused" ? (
                <span className="line-why">
                  <FateMark fate="refused" /> {made.problems.map(({ reason }) => reason).join("; ")}
                </span>
              ) : null}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

const WORDS = {
  ...{
    building: say`building`,
    space: say`space`,
    panel: say`panel`,
    closure: say`case`,
    tray: say`splice tray`,
    circuit: say`circuit`,
  },
} as const;

/** Digits only; an empty field is not known, and nothing else is taken. */
const capacityGiven = (typed: string): Pick<Made, "capacity"> => {
  const digits = Number(typed.replace(/\D/g, ""));
  return digits > 0 ? { capacity: Math.min(digits, 1000) } : {};
};
const kindGiven = (value: string): Pick<Made, "space_kind"> =>
  value === "" ? {} : { space_kind: value as NonNullable<Made["space_kind"]> };
const plugGiven = (value: string): Pick<Made, "connector"> =>
  value === "" ? {} : { connector: value as NonNullable<Made["connector"]> };
