/** Keys and what each does, as a list. */
import { Fragment } from "react";
import type { KEY_TABLE } from "./key-table.ts";
import { keyWords } from "./key-words.ts";

interface Props {
  readonly rows: readonly (typeof KEY_TABLE)[number][];
  readonly className?: string;
}

export const KeyRows = ({ rows, className }: Props) => (
  <dl className={className}>
    {rows.map(({ act, keys, words }) => (
      <div key={act}>
        <dt>
          {keys.map((one, at) => (
            <Fragment key={one}>
              {at > 0 ? " " : null}
              <kbd>{keyWords(one)}</kbd>
            </Fragment>
          ))}
        </dt>
        <dd>{words}</dd>
      </div>
    ))}
  </dl>
);
