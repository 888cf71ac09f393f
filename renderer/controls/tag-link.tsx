/** A tag on screen, always a link to its record. Mono type means a tag. */
import type { RecordRef } from "../../core/trace/answer.ts";
import { addressOf } from "../frame/router.ts";

/** The page of a record. */
export const recordAddress = ({ kind, id, tag }: RecordRef): string =>
  addressOf("record", { kind, id: String(id), tag });

export interface TagLinkProps {
  readonly record: RecordRef;
  /** Another address than its page, such as its trace. */
  readonly href?: string;
  /** In place of the address, where its place says the rest. */
  readonly words?: string;
  readonly strong?: boolean;
}

export function TagLink({ record, href, words, strong }: TagLinkProps) {
  return (
    <a
      className={strong ? "tag strong" : "tag"}
      href={href ?? recordAddress(record)}
      title={words ? record.tag : undefined}
    >
      {words ?? record.tag}
    </a>
  );
}
