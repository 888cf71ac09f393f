/** What of a planned change can't be written, by record, and the way to write the rest. */
import { KINDS, type KindName, kindOf } from "../../../core/model/dictionary.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import type { ChangesTold, RefusedChange } from "../../grid/change-rows.ts";

const MOST_SHOWN = 12;

export function RefusedChanges(props: {
  readonly kind: KindName;
  readonly told: ChangesTold;
  /** How many would be written without those that are refused. */
  readonly rest: number;
  readonly onRest: () => void;
}) {
  const { kind, told, rest, onRest } = props;
  const { refused, failure } = told;
  const more = refused.length - MOST_SHOWN;
  return (
    <div role="alert" className="refused-changes">
      <p>
        <b>{say`Nothing was written.`}</b>{" "}
        {refused.length > 0
          ? say`${counted(refused.length, KINDS[kind].one, KINDS[kind].many)} can't be changed so:`
          : failure?.message}
      </p>
      <ul>
        {refused.slice(0, MOST_SHOWN).map((one) => (
          <li key={`${one.change.row.id} ${one.change.field}`}>
            <span className="tag">{one.change.row.address}</span> {wordsOf(kind, one)}
          </li>
        ))}
      </ul>
      {more > 0 ? <p className="soft">{say`and ${count(more)} more`}</p> : null}
      {rest > 0 && refused.length > 0 ? <Button onClick={onRest}>{say`Write the other ${count(rest)}`}</Button> : null}
    </div>
  );
}

const wordsOf = (kind: KindName, { change, reason }: RefusedChange): string =>
  `${kindOf(kind).fields[change.field]?.label ?? change.field} ${reason}`;
