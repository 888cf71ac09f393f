/** Rows of one form of a cable run: those typed, and one more to be typed into, which becomes a row once it is. */
import type { ReactNode } from "react";
import { say } from "../../../core/words/say.ts";

export interface TypedRow<R> {
  readonly row: R;
  readonly at: number;
  /** Whether it is the one that isn't typed yet. */
  readonly fresh: boolean;
  readonly set: (change: Partial<R>) => void;
  readonly takeOut: () => void;
}

interface Props<R> {
  readonly className: string;
  readonly heads: readonly string[];
  readonly rows: readonly R[];
  readonly next: R;
  readonly put: (rows: readonly R[]) => void;
  readonly children: (row: TypedRow<R>) => ReactNode;
}

export function TypedRows<R>({ className, heads, rows, next, put, children }: Props<R>) {
  return (
    <table className={`run-rows ${className}`}>
      <thead>
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
          <th scope="col">
            <span className="hush">{say`take out`}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {[...rows, next].map((row, at) =>
          children({
            ...{ row, at, fresh: at === rows.length },
            set: (change) => put([...rows.slice(0, at), { ...row, ...change }, ...rows.slice(at + 1)]),
            takeOut: () => put(rows.filter((_, index) => index !== at)),
          }),
        )}
      </tbody>
    </table>
  );
}

export const TakeOut = ({ label, takeOut }: { readonly label: string; readonly takeOut: () => void }) => (
  <button type="button" className="form-take-out" aria-label={label} onClick={takeOut}>
    ×
  </button>
);
