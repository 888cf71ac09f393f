/** How the sheet is read: as a source that is known, or piece by piece, with what was found out shown. */
import { type ReactNode, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import type { Mapping, Reading, ReadSheet } from "./mapping.ts";
import type { Profile } from "./profiles.ts";

interface Props {
  readonly read: ReadSheet;
  readonly reading: Reading;
  readonly mapping: Mapping;
  readonly profiles: readonly Profile[];
  /** The profile by which it is read; empty where it is found out. */
  readonly by: string;
  /** The sheet is read anew. */
  readonly readAnew: (reading: Reading) => void;
  readonly readBy: (name: string) => void;
  readonly change: (mapping: Mapping) => void;
  /** Null where nothing can be written. */
  readonly keep: ((name: string) => void) | null;
}

const DELIMITERS = { ",": say`commas`, ";": say`semicolons`, "\t": say`tabs`, "|": say`upright bars` } as const;
const DECIMALS = { comma: "0,5", point: "0.5" } as const;

export const Choice = (props: {
  readonly label: string;
  readonly value: string;
  readonly choose: (value: string) => void;
  readonly children: ReactNode;
}) => (
  <label className="sheet-choice">
    <span>{props.label}</span>
    <select className="form-input" value={props.value} onChange={(event) => props.choose(event.target.value)}>
      {props.children}
    </select>
  </label>
);

const options = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, said]) => (
    <option key={value} value={value}>
      {said}
    </option>
  ));

export function ReadingPanel(props: Props) {
  const { read, reading, mapping, profiles, by, readAnew, readBy, change, keep } = props;
  const delimiter = DELIMITERS[(read.delimiter ?? "") as keyof typeof DELIMITERS];
  return (
    <>
      {profiles.length > 0 ? (
        <Choice label={say`sheets from`} value={by} choose={readBy}>
          <option value="">{say`a source not known yet`}</option>
          {profiles.map(({ name }) => (
            <option key={name} value={name}>
              {name}
            </option>
          ))}
        </Choice>
      ) : null}
      {read.encoding ? (
        <Choice
          label={say`letters`}
          value={reading.encoding}
          choose={(encoding) => readAnew({ ...reading, encoding: encoding as Reading["encoding"] })}
        >
          <option value="">{say`found out: ${read.encodings[read.encoding]}`}</option>
          {options(read.encodings)}
        </Choice>
      ) : null}
      {read.form === "text" ? (
        <Choice
          label={say`cells parted by`}
          value={reading.delimiter}
          choose={(mark) => readAnew({ ...reading, delimiter: mark as Reading["delimiter"], heading_row: null })}
        >
          <option value="">{say`found out: ${delimiter}`}</option>
          {options(DELIMITERS)}
        </Choice>
      ) : null}
      <Choice
        label={say`decimals`}
        value={mapping.decimal}
        choose={(decimal) => change({ ...mapping, decimal: decimal as Mapping["decimal"] })}
      >
        <option value="">{read.decimal ? say`found out: ${DECIMALS[read.decimal]}` : say`as they can be read`}</option>
        {options(DECIMALS)}
      </Choice>
      <HeadingRow read={read} choose={(heading_row) => readAnew({ ...reading, heading_row })} />
      {keep ? <Keep name={by || read.name} keep={keep} /> : null}
    </>
  );
}

/** Typed, and taken when the field is left or with Enter: half a number is another row. */
function HeadingRow({ read, choose }: { readonly read: ReadSheet; readonly choose: (row: number) => void }) {
  const [typed, setTyped] = useState<string | null>(null);
  const take = () => {
    const row = Number(typed);
    if (typed !== null && Number.isInteger(row) && row > 0 && row !== read.heading.row) choose(row);
    setTyped(null);
  };
  return (
    <label className="sheet-choice">
      <span>{say`heading in row`}</span>
      <input
        className="form-input"
        inputMode="numeric"
        value={typed ?? String(read.heading.row)}
        onChange={(event) => setTyped(event.target.value)}
        onBlur={take}
        onKeyDown={(event) => {
          if (event.key === "Enter") take();
        }}
      />
    </label>
  );
}

function Keep({ name, keep }: { readonly name: string; readonly keep: (name: string) => void }) {
  const [typed, setTyped] = useState<string | null>(null);
  const said = (typed ?? name).trim();
  return (
    <div className="sheet-choice">
      <label htmlFor="sheet-source-name">{say`source`}</label>
      <span className="sheet-keep">
        <input
          id="sheet-source-name"
          className="form-input"
          value={typed ?? name}
          onChange={(event) => setTyped(event.target.value)}
        />
        <Button
          disabled={said === ""}
          onClick={() => keep(said)}
          title={say`Sheets of this source are read so from now on`}
        >
          {say`Keep`}
        </Button>
      </span>
    </div>
  );
}
