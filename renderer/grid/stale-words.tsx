/** Both versions of a record that was changed since it was typed into: who changed it, what stands there, what was typed. */
import type { StaleVersions } from "../../core/store/stale.ts";
import { say } from "../../core/words/say.ts";
import { useSettings } from "../client/settings.ts";
import { sayWith } from "../controls/say-with.tsx";
import { wordsIn } from "./showing.ts";
import type { TypedCell } from "./typed.ts";

export function StaleWords(props: {
  readonly label: string;
  readonly field: string;
  readonly cell: TypedCell;
  readonly stale: StaleVersions;
}) {
  const { label, field, cell, stale } = props;
  const { unit } = useSettings();
  const shown = (one: StaleVersions["fields"][number]) =>
    wordsIn(stale.kind, one.field, one.current, unit) ?? say`empty`;
  const by = stale.changed_by;
  const same = stale.fields.find((one) => one.field === field);
  const others = stale.fields.filter((one) => one.field !== field).map((one) => say`${one.label} is now ${shown(one)}`);
  return (
    <>
      {sayWith`${<b>{by ? say`${by.author} changed this row` : say`This row was changed`}</b>} after you read it:`}{" "}
      {same
        ? sayWith`${label} is now ${<b>{shown(same)}</b>}, yours is ${<b>{cell.text || say`empty`}</b>}`
        : others.join(", ") || say`it is gone`}
      .
    </>
  );
}
