/** The limits that an answer was reckoned by: what each means, its value in its unit, and its source. */
import type { MendAnswer } from "../../core/repair/answer.ts";
import { say } from "../../core/words/say.ts";
import { useLength } from "./figures.ts";
import { LeafPart } from "./leaf.tsx";

/** Of a limit whose meaning says what 1 and 0 stand for. */
const YES_OR_NO = "1 or 0";

export function ReckonedBy({
  limits,
  assumed = [],
}: Pick<MendAnswer, "limits"> & { readonly assumed?: readonly string[] }) {
  const length = useLength();
  const amount = (value: number, unit: string | null): string =>
    unit === "m"
      ? length(value)
      : unit === "ratio"
        ? `${Math.round(value * 1000) / 10}\u202f%`
        : unit && unit !== YES_OR_NO
          ? `${value}\u202f${unit}`
          : String(value);
  return (
    <LeafPart title={say`Reckoned by`}>
      <ul className="leaf-list">
        {limits.map(({ tag, meaning, value, unit, source }) => (
          <li key={tag}>
            <span>
              {meaning ?? tag}: <b>{amount(value, unit)}</b>
            </span>
            <span className="small faint">{source}</span>
          </li>
        ))}
      </ul>
      {assumed.map((words) => (
        <p key={words} className="small">
          {say`Assumed: ${words}`}
        </p>
      ))}
    </LeafPart>
  );
}
