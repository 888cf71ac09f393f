/** A tag on screen, always a link to its record. Mono type means a tag. */
import { createContext, useContext } from "react";
import type { RecordRef } from "../../core/trace/answer.ts";
import { addressOf } from "../frame/router.ts";
import { unbroken } from "./unbroken.tsx";

/** The page of a record. */
export const recordAddress = ({ kind, id, tag }: RecordRef): string =>
  addressOf("record", { kind, id: String(id), tag });

/** A description, such as a splice's, is words and may be parted between them; an address never is. */
const classOf = (text: string, strong: boolean | undefined): string =>
  `tag${strong ? " strong" : ""}${text.includes(" ") ? " described" : ""}`;

/** A tag that leads nowhere, such as of a record that isn't there. */
export const TagText = ({ of, gone }: { readonly of: string; readonly gone?: boolean }) => (
  <span className={gone ? `${classOf(of, false)} gone` : classOf(of, false)}>
    {of.includes(" ") ? unbroken(of) : of}
  </span>
);

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
  const shown = words ?? record.tag;
  return (
    <a
      tabIndex={tabIndex}
      className={classOf(shown, strong)}
      href={href ?? recordAddress(record)}
      title={words ? record.tag : undefined}
    >
      {shown.includes(" ") ? unbroken(shown) : shown}
    </a>
  );
}
