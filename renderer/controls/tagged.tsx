/** A sentence with its tags as tags: in mono type, each a link to what it names. */
import { Fragment, type ReactNode } from "react";
import type { RecordRef } from "../../core/trace/answer.ts";
import { useSettings } from "../client/settings.ts";
import { inUnit } from "./figures.ts";
import { TagLink } from "./tag-link.tsx";
import { unbroken } from "./unbroken.tsx";

const literal = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

export interface TaggedProps {
  readonly text: string;
  /** Records the sentence may name. */
  readonly records: readonly (RecordRef | null | undefined)[];
}

export function Tagged({ text, records }: TaggedProps) {
  const { unit } = useSettings();
  const byTag = new Map(records.flatMap((record) => (record?.tag ? [[record.tag, record] as const] : [])));
  const words = inUnit(text, unit);
  if (byTag.size === 0) return unbroken(words);
  // Longer tags first, so that `F-021:1` isn't found inside `F-021:11`.
  const tags = [...byTag.keys()].toSorted((one, other) => other.length - one.length);
  const parts = words.split(new RegExp(`(?<![\\w/:-])(${tags.map(literal).join("|")})(?![\\w/#-]|:\\S)`));
  let at = 0;
  return parts.map((part, index): ReactNode => {
    const record = index % 2 === 1 ? byTag.get(part) : undefined;
    at += part.length + 1;
    return <Fragment key={at}>{record ? <TagLink record={record} /> : unbroken(part)}</Fragment>;
  });
}
