/** What becomes of one feature of a map. */
import type { Value } from "../model/dictionary.ts";
import type { Problem } from "../result.ts";
import type { MapFeature } from "./feature.ts";
import type { Mapped } from "./shape.ts";

export type MapFate = "new" | "changed" | "same" | "refused";

export interface FeatureFate {
  /** The feature's number in the file, from 1. */
  readonly feature: number;
  /** The record it stands for, or what the feature calls itself. */
  readonly record: string;
  readonly kind: Mapped | null;
  /** The record's id where it is on record. */
  readonly id: number | null;
  readonly fate: MapFate;
  readonly fields: readonly {
    readonly field: string;
    readonly label: string;
    readonly before: Value;
    readonly after: Value;
  }[];
  readonly problems: readonly Problem[];
  /** Words that follow the record's name. */
  readonly notices: readonly string[];
}

export const refusedFate = (
  feature: MapFeature,
  record: string,
  kind: Mapped | null,
  problems: readonly Omit<Problem, "row" | "record">[],
  notices: readonly string[] = [],
): FeatureFate => ({
  ...{ feature: feature.number, record, kind, id: null, fate: "refused", fields: [], notices },
  problems: problems.map((problem) => ({ row: feature.number, record, ...problem })),
});
