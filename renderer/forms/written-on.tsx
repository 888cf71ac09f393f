/**
 * A form about a record carries the version on which it was typed. Where the record was changed since, nothing is written:
 * both versions are shown, and what was typed stays until one of the ways out is taken.
 */
import { useEffect, useRef } from "react";
import { z } from "zod";
import type { Failure } from "../../core/result.ts";
import type { StaleVersions } from "../../core/store/stale.ts";
import { say } from "../../core/words/say.ts";
import { useSettings } from "../client/settings.ts";
import { Button } from "../controls/button.tsx";
import { Refused } from "../controls/refused.tsx";
import { sayWith } from "../controls/say-with.tsx";
import { wordsIn } from "../grid/showing.ts";

/** The record as it was read when the first letter was typed; null where there was none. Kept along with what is typed. */
export const writtenOn = z.object({ id: z.number(), rev: z.number() }).nullable().catch(null);
export type WrittenOn = z.output<typeof writtenOn>;

/** The record that is changed, at the version read; null where one is to be added. One that came meanwhile was never read. */
export const editedOf = (read: WrittenOn, now: WrittenOn): WrittenOn => read ?? (now && { id: now.id, rev: 0 });

interface Props {
  readonly failure: Failure;
  /** What is typed is dropped. */
  readonly onLeave: () => void;
  /** Written all the same, over this version; null where the record is gone and is to be added again. */
  readonly onOver: (now: WrittenOn) => void;
}

export function NotWritten(props: Props) {
  const shown = useRef<HTMLDivElement>(null);
  const { failure } = props;
  // Below a long form it would not be seen, and the ways out with it.
  useEffect(() => {
    if (failure) shown.current?.scrollIntoView({ block: "nearest" });
  }, [failure]);
  return (
    <div ref={shown}>
      <Why {...props} />
    </div>
  );
}

function Why({ failure, onLeave, onOver }: Props) {
  const stale = (failure.details as { readonly stale?: readonly StaleVersions[] } | undefined)?.stale?.[0];
  const { unit } = useSettings();
  if (stale) {
    const shown = (field: string, words: string | null) => wordsIn(stale.kind, field, words, unit) ?? say`empty`;
    return (
      <div className="refused" role="alert">
        <p className="refused-what">
          {sayWith`${<b>{stale.changed_by ? say`${stale.changed_by.author} changed it` : say`It was changed`}</b>} after you read it. What you typed is not written.`}
        </p>
        <ul>
          {stale.fields.map(({ field, label, seen, current }) => (
            <li key={field}>
              {seen === null
                ? sayWith`${<b>{label}</b>} is now ${<b className="stale-text">{shown(field, current)}</b>}`
                : sayWith`${<b>{label}</b>} is now ${<b className="stale-text">{shown(field, current)}</b>}, it was ${<span className="stale-text">{shown(field, seen)}</span>}`}
            </li>
          ))}
        </ul>
        <Ways onLeave={onLeave} onOver={() => onOver({ id: stale.id, rev: stale.current_rev })} />
      </div>
    );
  }
  if (failure.code === "not_found")
    return (
      <Refused failure={failure}>
        <Ways onLeave={onLeave} onOver={() => onOver(null)} />
      </Refused>
    );
  return <Refused failure={failure} />;
}

const Ways = ({ onLeave, onOver }: { readonly onLeave: () => void; readonly onOver: () => void }) => (
  <div className="refused-ways">
    <Button onClick={onLeave}>{say`Leave it as it is`}</Button>
    <Button onClick={onOver}>{say`Write mine over it`}</Button>
  </div>
);
