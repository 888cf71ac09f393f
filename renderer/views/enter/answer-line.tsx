/** The answer above the table: how many there are of what was asked. */
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";

/** " in MH-03 where method is fusion" */
export const whereWords = (place: string | null, read: readonly string[]): string =>
  `${place ? say` in ${place}` : ""}${read.length > 0 ? say` where ${read.join(say` and `)}` : ""}`;

export function Answer(props: {
  readonly kind: KindName;
  readonly total: number;
  readonly read: readonly string[];
  readonly place: string | null;
  readonly help: string;
  /** Leaves every filter; null where there is none. */
  readonly onShowAll: (() => void) | null;
}) {
  const { kind, total, read, place, help, onShowAll } = props;
  const { one, many } = KINDS[kind];
  const where = whereWords(place, read);
  const all = onShowAll ? (
    <>
      {" "}
      <button type="button" className="link" onClick={onShowAll}>
        {say`Show all`}
      </button>
    </>
  ) : null;
  if (total === 0 && where)
    return (
      <>
        {say`No ${one} is on record${where}.`}
        {all}
      </>
    );
  if (total === 0)
    return (
      <>
        {say`No ${one} is on record yet. ${help} Type into the first row to enter one, or paste a block from a sheet.`}
      </>
    );
  return (
    <>
      <b>{counted(total, one, many)}</b>
      {where}. {help}
      {all}
    </>
  );
}
