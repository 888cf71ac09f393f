/** Labels that don't fit, or can't be worded: each by name with the reason, and what cures it. */

import { plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { keyOf, type LaidOne, type Lay } from "./asked.ts";

/** So many are listed at once. */
const SHOWN = 6;

export interface OverflowListProps {
  readonly lay: Lay;
  readonly smaller: boolean;
  readonly onSmaller: (smaller: boolean) => void;
  readonly onSheet: (name: string) => void;
  readonly onPick: (key: string) => void;
  readonly onWording: () => void;
}

export function OverflowList({ lay, smaller, onSmaller, onSheet, onPick, onWording }: OverflowListProps) {
  const without = lay.labels.filter(({ at }) => at === null);
  if (without.length === 0)
    return smaller ? (
      <p className="label-over">
        {say`Type may be smaller than usual. `}
        <Button onClick={() => onSmaller(false)}>{say`Back to usual type`}</Button>
      </p>
    ) : null;
  return (
    <section className="label-over" aria-label={say`What doesn't fit`}>
      <p>
        <FindingMark shape="warning" />{" "}
        <b>
          {plural(
            without.length,
            "{0} label doesn't fit or can't be worded, and is not printed.",
            "{0} labels don't fit or can't be worded, and are not printed.",
          )}
        </b>
      </p>
      <ul>
        {without.slice(0, SHOWN).map((label) => (
          <li key={keyOf(label)}>
            <button type="button" className="plain tag" onClick={() => onPick(keyOf(label))}>
              {label.record}
              {label.place === null || label.place === label.record ? "" : say` at ${label.place}`}
            </button>{" "}
            {reasonOf(label, lay)}
          </li>
        ))}
        {without.length > SHOWN ? <li className="soft">{say`and ${without.length - SHOWN} more`}</li> : null}
      </ul>
      <p className="label-row">
        {lay.cures.smaller > 0 ? <Button onClick={() => onSmaller(true)}>{say`Use smaller type`}</Button> : null}
        {lay.cures.sheets.map((name) => (
          <Button key={name} onClick={() => onSheet(name)}>{say`Use ${name}`}</Button>
        ))}
        <Button onClick={onWording}>{say`Shorten what is written`}</Button>
      </p>
    </section>
  );
}

const reasonOf = ({ record, place }: LaidOne, { problems }: Lay): string => {
  const name = place === null || place === record ? record : say`${record} at ${place}`;
  return problems
    .filter((problem) => problem.record === name)
    .map(({ reason }) => reason)
    .join("; ");
};
