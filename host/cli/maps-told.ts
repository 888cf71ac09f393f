/** A map in words: what each feature would do, what was left out, what looks wrong. */

import { FATE_WORDS } from "../../core/model/wording.ts";
import type { MapRehearsal } from "../../core/operations/subjects/maps.ts";
import { plural } from "../../core/words/counted.ts";
import { say } from "../../core/words/say.ts";
import { printable, table } from "./print.ts";

type Fate = MapRehearsal["fates"][number];

function because({ problems, notices, fields }: Fate): string {
  return [
    ...problems.map(({ field, reason }) => [field, reason].filter(Boolean).join(" ")),
    ...notices,
    ...(fields.length > 0 ? [fields.map(({ label }) => label).join(", ")] : []),
  ].join("; ");
}

export function mapText(rehearsal: MapRehearsal, width: number): string {
  const columns = [
    { head: say`feature`, cell: (one: Fate) => one.feature, right: true },
    { head: say`record`, cell: (one: Fate) => one.record },
    { head: say`kind`, cell: (one: Fate) => one.kind },
    { head: say`fate`, cell: (one: Fate) => FATE_WORDS[one.fate] },
    { head: say`what`, cell: because },
  ];
  const told = rehearsal.fates.filter(({ fate, notices }) => fate !== "same" || notices.length > 0);
  return [
    told.length > 0 ? table(told, columns, width) : "",
    ...rehearsal.unknown.map(({ property, features }) =>
      printable(
        plural(
          features,
          "Left out: {1} ({0} feature), no field of the record\n",
          "Left out: {1} ({0} features), no field of the record\n",
          property,
        ),
      ),
    ),
    `\n${printable(rehearsal.sentence)}\n`,
    rehearsal.doubted.length > 0
      ? say`Read it with --swapped if latitude stands first in this file, with --turn ${rehearsal.doubted.slice(0, 8).join(",")} if only in these, with --as-written if they are meant so.\n`
      : "",
  ].join("");
}
