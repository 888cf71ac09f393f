/** What is not on record, a line each, with the sign of a gap. */
import type { RecordRef } from "../../core/trace/answer.ts";
import { FindingMark } from "../drawing/findings.tsx";
import { Said } from "./said.tsx";

export interface LacksProps {
  readonly words: readonly string[];
  /** Records the words may name. */
  readonly records?: readonly RecordRef[];
}

export function Lacks({ words, records = [] }: LacksProps) {
  return (
    <ul className="signed">
      {words.map((line) => (
        <li key={line}>
          <FindingMark shape="gap" />
          <span>
            <Said text={line} records={records} />
          </span>
        </li>
      ))}
    </ul>
  );
}
