/** Under the table: which cell one is in, what belongs there, the keys that fit, and what waits to be written. */
import type { KindName } from "../../../core/model/dictionary.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { keyWords } from "../../frame/key-words.ts";
import { addressOf } from "../../frame/router.ts";
import { FAULTS_ID } from "../../grid/GridHead.tsx";
import type { GridSpot } from "../../grid/grid-props.ts";
import { isOneCell } from "../../grid/keys.ts";

interface Props {
  readonly kind: KindName;
  readonly spot: GridSpot | null;
  readonly total: number | null;
  /** The last word of the table: "24 cells written." */
  readonly said: string;
  readonly readOnly: string | null;
  readonly refused: number;
  /** Cells typed and not written, those refused among them; and how many of them can be written as they stand. */
  readonly unwritten: number;
  readonly waiting: number;
  /** Rows picked, shown or not. */
  readonly picked: number;
  readonly onSetPicked: () => void;
  readonly onUnpick: () => void;
  readonly onRefused: () => void;
  readonly onWriteWaiting: () => void;
  readonly onLeaveAll: () => void;
  /** Why filters can't be read; as long as there are any, they stand here. */
  readonly faults: readonly string[];
}

type Hint = readonly [keys: string, does: string];

function hintsFor(spot: GridSpot, readOnly: boolean): readonly Hint[] {
  if (spot.editing)
    return [
      ["Enter", say`keep`],
      ["Tab", say`keep, next cell`],
      ["Esc", say`leave as it was`],
    ];
  if (spot.index < 0)
    return [
      ["Enter", say`sort`],
      ["F2", say`filter`],
      ["Ctrl ←→", say`width`],
    ];
  if (readOnly) return [["Ctrl Enter", say`its page`]];
  if (!isOneCell(spot.block))
    return [
      ["Ctrl D", say`fill down`],
      ["Ctrl C", say`copy`],
      ["Delete", say`empty them`],
    ];
  return [
    ["F2", say`edit`],
    ["Ctrl D", say`fill down`],
    ["Ctrl Enter", say`its page`],
    ["Ctrl Delete", say`delete row`],
  ];
}

export function HintLine(props: Props) {
  const { spot, total, said, readOnly, unwritten, faults } = props;
  const { column, row, index, block } = spot ?? {};
  const rows = block && !isOneCell(block) ? block.bottom - block.top + 1 : 0;
  const columns = block && !isOneCell(block) ? block.right - block.left + 1 : 0;
  const here =
    column && index !== undefined
      ? rows > 0
        ? say`${count(rows)} × ${count(columns)} cells`
        : index < 0
          ? say`Column ${column.field.label}`
          : row
            ? say`Row ${count(index + 1)}, ${column.field.label}`
            : say`New row, ${column.field.label}`
      : "";
  const picked = <PickedRows {...props} />;
  return (
    <>
      {unwritten > 0 && props.picked > 0 ? <div className="hint-line hint-picked">{picked}</div> : null}
      <div className="hint-line">
        {faults.length > 0 ? null : (
          <>
            <span className="hint-here">{here}</span>
            <span className="hint-help" title={column?.field.help}>
              {column && !said ? column.field.help : said}
            </span>
          </>
        )}
        <span id={FAULTS_ID} className="hint-faults" role="status">
          {faults.length > 0 ? <b>{say`Not filtered by this: ${faults.join("; ")}.`}</b> : null}
        </span>
        {column && faults.length === 0 ? (
          <a
            className="link"
            href={addressOf("fields", { kind: props.kind, at: column.id })}
            title={say`All fields of this kind: what they mean, and what may stand in them`}
          >
            {say`All fields`}
          </a>
        ) : null}
        <span className="hush" role="status">
          {said}
        </span>
        <span className="hush" role="status">
          {props.picked > 0 ? say`${counted(props.picked, "row", "rows")} picked` : ""}
        </span>
        {unwritten > 0 ? (
          <Unwritten {...props} />
        ) : props.picked > 0 ? (
          picked
        ) : spot && faults.length === 0 ? (
          <span className="hint-keys">
            {hintsFor(spot, readOnly !== null).map(([keys, does]) => (
              <span key={keys}>
                <kbd>{keyWords(keys)}</kbd> {does}
              </span>
            ))}
          </span>
        ) : null}
        <span className="hint-rows">
          {total === null ? "" : readOnly ? say`read only` : counted(total, "row", "rows")}
        </span>
      </div>
    </>
  );
}

function PickedRows({ picked, readOnly, onSetPicked, onUnpick }: Props) {
  return (
    <span className="line-ways">
      <b aria-hidden="true">{say`${counted(picked, "row", "rows")} picked`}</b>
      {readOnly ? null : <Button onClick={onSetPicked}>{say`Set a field`}</Button>}
      <Button onClick={onUnpick}>{say`Pick none`}</Button>
    </span>
  );
}

/** What was typed and isn't on record, with the ways out of it. */
function Unwritten({ refused, unwritten, waiting, onRefused, onWriteWaiting, onLeaveAll }: Props) {
  const others = unwritten - refused;
  if (refused === 0)
    return (
      <span className="line-ways">
        <b>{say`${counted(unwritten, "cell", "cells")} typed and not written`}</b>
        <Button onClick={onWriteWaiting}>{waiting === 1 ? say`Write it` : say`Write them`}</Button>
        <Button onClick={onLeaveAll}>{say`Leave all as it was`}</Button>
      </span>
    );
  return (
    <span className="line-ways">
      <b>
        {say`${counted(refused, "cell", "cells")} refused${others > 0 ? plural(others, ", {0} waits", ", {0} wait") : ""}`}
      </b>
      <Button onClick={onRefused}>{refused === 1 ? say`Go to it` : say`Go to the first`}</Button>
      {waiting > 0 ? (
        <Button onClick={onWriteWaiting}>
          {waiting === others ? say`Write the other ${count(waiting)}` : say`Write ${count(waiting)} of the others`}
        </Button>
      ) : null}
      <Button onClick={onLeaveAll}>{say`Leave all as it was`}</Button>
    </span>
  );
}
