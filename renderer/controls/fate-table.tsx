/** What would become of each row or feature of what is taken over: a few hundred are shown at once, more when asked. */
import { type ReactNode, useState } from "react";
import { say } from "../../core/words/say.ts";
import { Button } from "./button.tsx";
import { count } from "./figures.ts";
import { TagText } from "./tag-link.tsx";
import { unbroken } from "./unbroken.tsx";

const FIRST = 200;

interface Props<R> {
  readonly className: string;
  /** The second stands over numbers. */
  readonly heads: readonly string[];
  readonly rows: readonly R[];
  readonly children: (row: R) => ReactNode;
}

export function FateTable<R>({ className, heads, rows, children }: Props<R>) {
  const [most, setMost] = useState(FIRST);
  return (
    <>
      <table className={className}>
        <thead>
          <tr>
            {heads.map((head, index) => (
              <th key={head} scope="col" className={index === 1 ? "figure" : undefined}>
                {head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>{rows.slice(0, most).map(children)}</tbody>
      </table>
      {rows.length > most ? (
        <Button
          onClick={() => setMost(most + FIRST)}
        >{say`Show ${count(Math.min(FIRST, rows.length - most))} more`}</Button>
      ) : null}
    </>
  );
}

interface Reason {
  readonly field?: string | undefined;
  readonly record?: string | undefined;
  readonly reason: string;
}

/** Why a row is refused, and what is told of it. */
export const Because = ({
  problems,
  notices,
}: {
  readonly problems: readonly Reason[];
  readonly notices: readonly string[];
}) => (
  <>
    {problems.map(({ field, record, reason }) => (
      <span key={`${field} ${record} ${reason}`} className="line-why">
        {field ? <b>{field} </b> : null}
        {record ? <TagText of={record} /> : null} {unbroken(reason)}
      </span>
    ))}
    {notices.map((notice) => (
      <span key={notice} className="line-why">
        {unbroken(notice)}
      </span>
    ))}
  </>
);
