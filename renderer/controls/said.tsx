/** A sentence of the record: what stands between backticks is a tag, and a link where the record is one of those named beside it. */
import { Fragment } from "react";
import { shownDay } from "../../core/model/wording.ts";
import type { RecordRef } from "../../core/trace/answer.ts";
import { useSettings } from "../client/settings.ts";
import { inUnit } from "./figures.ts";
import { TagLink } from "./tag-link.tsx";
import { unbroken } from "./unbroken.tsx";

/** What stands between double quotes is quoted and keeps its unit; all else is told as this person reads it. */
const unquotedIn = (text: string, unit: Parameters<typeof inUnit>[1]): string =>
  text.replace(/"[^"]*"|[^"]+/g, (part) => (part.startsWith('"') ? part : inUnit(part, unit)));

/**
 * Days as they are written everywhere else on screen. What stands between double quotes is quoted from a label or the
 * record and stays as it was written.
 */
export const withDays = (text: string): string =>
  text.replace(/"[^"]*"|(?<![\w-])\d{4}-\d{2}-\d{2}(?![\w-])/g, (part) =>
    part.startsWith('"') ? part : shownDay(part),
  );

export function Said({ text, records }: { readonly text: string; readonly records: readonly RecordRef[] }) {
  const { unit } = useSettings();
  const byTag = new Map(records.map((record) => [record.tag, record]));
  let at = 0;
  return text.split("`").map((part, index) => {
    at += part.length + 1;
    if (index % 2 === 0) return <Fragment key={at}>{unbroken(withDays(unquotedIn(part, unit)))}</Fragment>;
    const record = byTag.get(part);
    // A description, such as a splice's, is words; only an address is a tag.
    if (record)
      return part.includes(" ") ? (
        <TagLinkWords key={at} record={record} />
      ) : (
        <TagLink key={at} record={record} strong />
      );
    return (
      <span key={at} className={part.includes(" ") ? undefined : "tag strong"}>
        {part}
      </span>
    );
  });
}

const TagLinkWords = ({ record }: { readonly record: RecordRef }) => (
  <span className="said-words">
    <TagLink record={record} />
  </span>
);
