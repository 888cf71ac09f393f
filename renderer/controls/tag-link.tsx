/** A tag on screen, always a link to its record. Mono type means a tag. */
import { createContext, useContext } from "react";
import type { RecordRef } from "../../core/trace/answer.ts";
import { addressOf } from "../frame/router.ts";

/** The page of a record. */
export const recordAddress = ({ kind, id, tag }: RecordRef): string =>
  addressOf("record", { kind, id: String(id), tag });

/** Set to -1 around rows that aren't selected: Tab goes from row to row, and into the one pointed at. */
export const TabStops = createContext<-1 | undefined>(undefined);

export interface TagLinkProps {
  readonly record: RecordRef;
  /** Another address than its page, such as its trace. */
  readonly href?: string;
  /** In place of the address, where its place says the rest. */
  readonly words?: string;
  readonly strong?: boolean;
}

export function TagLink({ record, href, words, strong }: TagLinkProps) {
  const tabIndex = useContext(TabStops);
  return (
    <a
      tabIndex={tabIndex}
      className={strong ? "tag strong" : "tag"}
      href={href ?? recordAddress(record)}
      title={words ? record.tag : undefined}
    >
      {words ?? record.tag}
    </a>
  );
}
