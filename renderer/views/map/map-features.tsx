/** What would become of each feature, refused ones first, then those with a warning; one that isn't ticked is left out. */
import { useState } from "react";
import type { MapRehearsal } from "../../../core/operations/subjects/maps.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { FateMark } from "../../drawing/findings.tsx";

type Fate = MapRehearsal["fates"][number];
const FIRST = 200;
const rank = ({ fate, notices }: Fate): number =>
  fate === "refused" ? 0 : notices.length > 0 ? 1 : fate === "same" ? 3 : 2;

/** Which way round single features are meant that look swapped. */
export interface Ways {
  readonly turn: readonly number[];
  readonly asWritten: readonly number[];
}
export const AS_READ: Ways = { turn: [], asWritten: [] };

export interface MapFeaturesProps {
  readonly plan: MapRehearsal;
  readonly leaveOut: readonly number[];
  readonly choose: (features: readonly number[]) => void;
  readonly ways: Ways;
  readonly setWays: (ways: Ways) => void;
}

export function MapFeatures({ plan, leaveOut, choose, ways, setWays }: MapFeaturesProps) {
  const [most, setMost] = useState(FIRST);
  const rows = plan.fates.toSorted((a, b) => rank(a) - rank(b) || a.feature - b.feature);
  return (
    <>
      <table className="sheet-rows map-rows">
        <thead>
          <tr>
            <th scope="col">{say`take`}</th>
            <th scope="col" className="figure">
              {say`feature`}
            </th>
            <th scope="col">{say`fate`}</th>
            <th scope="col">{say`record`}</th>
            <th scope="col">{say`what changes, or why not`}</th>
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, most).map((one) => (
            <tr key={one.feature}>
              <td>
                <input
                  type="checkbox"
                  aria-label={say`Take feature ${one.feature}, ${one.record}`}
                  checked={!leaveOut.includes(one.feature)}
                  onChange={({ target }) =>
                    choose(
                      target.checked
                        ? leaveOut.filter((feature) => feature !== one.feature)
                        : [...leaveOut, one.feature],
                    )
                  }
                />
              </td>
              <td className="figure">{count(one.feature)}</td>
              <td className="row-fate">
                <FateMark fate={one.fate} /> {one.fate}
              </td>
              <td>
                {one.kind && one.id !== null ? (
                  <TagLink record={{ kind: one.kind, id: one.id, tag: one.record }} />
                ) : (
                  <span className="tag">{one.record}</span>
                )}{" "}
                <span className="soft">{one.kind ?? ""}</span>
              </td>
              <td>
                <Because one={one} />
                {plan.doubted.includes(one.feature) ? (
                  <span className="map-ways">
                    <Button
                      label={say`Turn it round: feature ${one.feature}, ${one.record}`}
                      onClick={() => setWays({ ...ways, turn: other(ways.turn, one.feature) })}
                    >
                      {say`Turn it round`}
                    </Button>
                    <Button
                      label={say`It is meant so: feature ${one.feature}, ${one.record}`}
                      onClick={() => setWays({ ...ways, asWritten: [...ways.asWritten, one.feature] })}
                    >
                      {say`It is meant so`}
                    </Button>
                  </span>
                ) : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {rows.length > most ? (
        <Button
          onClick={() => setMost(most + FIRST)}
        >{say`Show ${count(Math.min(FIRST, rows.length - most))} more`}</Button>
      ) : null}
      {leaveOut.length > 0 ? (
        <p className="map-left-out">
          {say`${count(leaveOut.length)} left out. `}
          <Button onClick={() => choose([])}>{say`Take all again`}</Button>
        </p>
      ) : null}
    </>
  );
}

/** With it, or without it where it was among them. */
const other = (some: readonly number[], one: number): readonly number[] =>
  some.includes(one) ? some.filter((each) => each !== one) : [...some, one];

function Because({ one }: { readonly one: Fate }) {
  return (
    <>
      {one.problems.map(({ field, reason }) => (
        <span key={`${field} ${reason}`} className="line-why">
          {field ? <b>{field} </b> : null}
          {reason}
        </span>
      ))}
      {one.notices.map((notice) => (
        <span key={notice} className="line-why">
          {notice}
        </span>
      ))}
      {one.fields.map(({ field, label, before, after }) => (
        <span key={field} className="map-field">
          {label} {before === null ? "" : <s>{before}</s>} <b>{after}</b>
        </span>
      ))}
    </>
  );
}
