/** A map in words: what each feature would do, what was left out, what looks wrong. */
import type { MapRehearsal } from "../../core/operations/subjects/maps.ts";
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
    { head: "feature", cell: (one: Fate) => one.feature, right: true },
    { head: "record", cell: (one: Fate) => one.record },
    { head: "kind", cell: (one: Fate) => one.kind },
    { head: "fate", cell: (one: Fate) => one.fate },
    { head: "what", cell: because },
  ];
  const told = rehearsal.fates.filter(({ fate, notices }) => fate !== "same" || notices.length > 0);
  return [
    told.length > 0 ? table(told, columns, width) : "",
    ...rehearsal.unknown.map(({ property, features }) =>
      printable(
        `Left out: ${property} (${features} ${features === 1 ? "feature" : "features"}), no field of the record\n`,
      ),
    ),
    `\n${printable(rehearsal.sentence)}\n`,
    rehearsal.doubted.length > 0
      ? `Read it with --swapped if latitude stands first in this file, with --turn ${rehearsal.doubted.slice(0, 8).join(",")} if only in these, with --as-written if they are meant so.\n`
      : "",
  ].join("");
}
