/** What would become of each feature, refused ones first, then those with a warning; one that isn't ticked is left out. */

import { KINDS } from "../../../core/model/dictionary.ts";
import { FATE_WORDS } from "../../../core/model/wording.ts";
import type { MapRehearsal } from "../../../core/operations/subjects/maps.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { Because, FateTable } from "../../controls/fate-table.tsx";
import { count } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { FateMark } from "../../drawing/findings.tsx";

type Fate = MapRehearsal["fates"][number];
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
  const rows = plan.fates.toSorted((a, b) => rank(a) - rank(b) || a.feature - b.feature);
  return (
    <>
      <FateTable
        className="sheet-rows map-rows"
        heads={[say`take`, say`feature`, say`fate`, say`record`, say`what changes, or why not`]}
        rows={rows}
      >
        {(one) => (
          <tr key={one.feature}>
            <td>
              <input
                type="checkbox"
                aria-label={say`Take feature ${one.feature}, ${one.record}`}
                checked={!leaveOut.includes(one.feature)}
                onChange={({ target }) =>
                  choose(
                    target.checked ? leaveOut.filter((feature) => feature !== one.feature) : [...leaveOut, one.feature],
                  )
                }
              />
            </td>
            <td className="figure">{count(one.feature)}</td>
            <td className="row-fate">
              <FateMark fate={one.fate} /> {FATE_WORDS[one.fate]}
            </td>
            <td>
              {one.kind && one.id !== null ? (
                <TagLink record={{ kind: one.kind, id: one.id, tag: one.record }} />
              ) : (
                <span className="tag">{one.record}</span>
              )}{" "}
              <span className="soft">{one.kind === null ? "" : KINDS[one.kind].one}</span>
            </td>
            <td>
              <Because problems={one.problems.map(({ field, reason }) => ({ field, reason }))} notices={one.notices} />
              {one.fields.map(({ field, label, before, after }) => (
                <span key={field} className="map-field">
                  {label} {before === null ? "" : <s>{before}</s>} <b>{after}</b>
                </span>
              ))}
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
        )}
      </FateTable>
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
