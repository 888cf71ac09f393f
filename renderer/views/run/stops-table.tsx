/** Where the cable runs, place by place: the next one is offered from the ways that leave the last. */
import type { ReactNode } from "react";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { useLength } from "../../controls/figures.ts";
import type { Suggestion } from "../../grid/suggestions.ts";
import { STATE_WORDS } from "../pathway/words.ts";
import { Field, focusField, thenFocus } from "./field.tsx";
import { Beside, useAnyTold } from "./told.tsx";
import { EMPTY_STOP, type Offers, type StopRow, type TypedRun } from "./typed.ts";

interface Props {
  readonly typed: TypedRun;
  readonly type: (next: TypedRun) => void;
}

const COLUMNS = {
  ...{ space: say`place`, mark_in: say`mark in`, mark_out: say`mark out`, slack: say`coil`, closure: say`case` },
  ...{ mark_open_from: say`opened from`, mark_open_to: say`opened to`, cut: say`strands cut`, way: say`way on` },
} as const;
type Column = keyof typeof COLUMNS;
const ORDER = Object.keys(COLUMNS) as readonly Column[];
const MONO: readonly Column[] = ["space", "closure", "way"];

const place = (space: string) => (space.trim() === "" ? null : { place: space.trim() });

export function StopsTable({ typed, type }: Props) {
  const { stops } = typed;
  const put = (next: readonly StopRow[]) => type({ ...typed, stops: next });
  const set = (at: number, change: Partial<StopRow>) =>
    put(stops.map((stop, index) => (index === at ? { ...stop, ...change } : stop)));
  const add = () => focusField(`stops.${stops.length}.space`);
  return (
    <table className="run-rows run-stops">
      <thead>
        <tr>
          <th scope="col">
            <span className="hush">{say`number`}</span>
          </th>
          {ORDER.map((name) => (
            <th key={name} scope="col">
              {COLUMNS[name]}
            </th>
          ))}
          <th scope="col">
            <span className="hush">{say`take out`}</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {stops.map((stop, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a stop has no name but its place along the cable
          <Stop key={at} {...{ stop, at, stops, add }} set={(change) => set(at, change)}>
            <button
              type="button"
              className="form-take-out"
              aria-label={say`Take out stop ${at + 1}`}
              onClick={() => put(stops.filter((_, index) => index !== at))}
            >
              ×
            </button>
          </Stop>
        ))}
        <NextStop typed={typed} type={type} />
      </tbody>
    </table>
  );
}

interface StopProps {
  readonly stop: StopRow;
  readonly at: number;
  readonly stops: readonly StopRow[];
  readonly set: (change: Partial<StopRow>) => void;
  readonly add: () => void;
  readonly children: ReactNode;
}

function Stop({ stop, at, stops, set, add, children }: StopProps) {
  const offers = useAnswer("run.offers", place(stop.space)).value;
  const ways = useWays(offers, stops[at + 1]?.space ?? null);
  const row = `stops.${at}`;
  const told = useAnyTold(row);
  const last = at === stops.length - 1;
  const cases = (offers?.cases ?? []).map(({ closure, trays }) => ({
    ...{
      text: within(closure.tag, stop.space),
      found: null,
      aside: counted(trays.length, "tray"),
    },
  }));
  return (
    <>
      <tr>
        <td className="form-row-number">{at + 1}</td>
        {ORDER.map((name) => (
          <td key={name}>
            {name === "way" && last ? (
              <span className="soft">{say`ends here`}</span>
            ) : (
              <Field
                at={`${row}.${name}`}
                row={row}
                label={say`${COLUMNS[name]}, stop ${at + 1}`}
                value={stop[name]}
                onChange={(text) => set({ [name]: text })}
                onEnter={add}
                mono={MONO.includes(name)}
                {...(name === "space" ? { kinds: ["space"] as const } : {})}
                {...(name === "closure" ? { offers: cases } : {})}
                {...(name === "way" ? { offers: ways, kinds: ["conduit", "pathway"] as const } : {})}
              />
            )}
          </td>
        ))}
        <td>{children}</td>
      </tr>
      {told ? (
        <tr>
          <td />
          <td colSpan={ORDER.length + 1}>
            <Beside row={row} labels={COLUMNS} />
          </td>
        </tr>
      ) : null}
    </>
  );
}

/** A tag as it is said in its place. */
export const within = (tag: string, space: string): string =>
  space !== "" && tag.startsWith(`${space}/`) ? tag.slice(space.length + 1) : tag;

/** Ways on as a field offers them; only those that lead to a place, where that is said. */
function useWays(offers: Offers | undefined, to: string | null): (Suggestion & { readonly to: string })[] {
  const length = useLength();
  return (offers?.ways ?? []).flatMap(({ way, to: leads, length_m, state, cables, fill }) => {
    if (leads === null || (to !== null && to !== "" && leads.tag !== to)) return [];
    const pipe =
      way.kind === "pathway"
        ? say`in no pipe`
        : [
            state ? STATE_WORDS[state] : null,
            cables > 0 ? say`${cables} in it` : "",
            fill ? say`${Math.round(fill * 100)} % full` : "",
          ]
            .filter(Boolean)
            .join(", ");
    const words = [say`to ${leads.tag}`, length_m === null ? "" : length(length_m), pipe].filter(Boolean).join(", ");
    return [{ text: way.tag, found: null, aside: words, to: leads.tag }];
  });
}

function NextStop({ typed, type }: Props) {
  const { stops, next } = typed;
  const last = stops.at(-1);
  const offers = useAnswer("run.offers", place(last?.space ?? "")).value;
  const ways = useWays(offers, null);
  const at = `stops.${stops.length}`;
  const first = stops.length === 0;
  const append = (space: string, way: string | null, goesOn: boolean) => {
    const before = way === null ? stops : [...stops.slice(0, -1), { ...(last ?? EMPTY_STOP), way }];
    const put = () => type({ ...typed, stops: [...before, { ...EMPTY_STOP, space }], next: "" });
    if (goesOn) thenFocus(put, `${at}.${first ? "mark_out" : "mark_in"}`);
    else put();
  };
  const taken = (choice: Suggestion, goesOn = true) => {
    const way = ways.find((one) => one === choice);
    if (way) return append(way.to, way.text, goesOn);
    // One way leads there: it is written where it can be seen, and changed.
    const there = ways.filter(({ to }) => to === choice.text);
    append(choice.text, there.length === 1 ? (there[0]?.text ?? null) : null, goesOn);
  };
  /** What is typed is taken as it stands: a way by its tag, else a place. */
  const asTyped = (goesOn: boolean) => {
    const text = next.trim();
    if (text === "") return;
    const way = ways.find((one) => one.text.toLowerCase() === text.toLowerCase());
    taken(way ?? { text, found: null, aside: null }, goesOn);
  };
  return (
    <tr className="run-next">
      <td className="form-row-number">{stops.length + 1}</td>
      <td colSpan={ORDER.length + 1}>
        <Field
          at={`${at}.space`}
          row="stops"
          label={first ? say`first place` : say`next place, or the way to it`}
          value={next}
          onChange={(text) => type({ ...typed, next: text })}
          offers={ways}
          kinds={["space"]}
          mono
          placeholder={first ? say`first place, such as LIB/101` : say`next place, or the way to it`}
          onTaken={taken}
          onEnter={() => asTyped(true)}
          onLeft={(by) => asTyped(by === "tab")}
          size={30}
        />
        {next.trim() === "" ? null : <span className="soft"> {say`Enter or Tab takes it`}</span>}
      </td>
    </tr>
  );
}
