/** The separate ways into one building, drawn outward; and what cuts it off, with what breaks along with it. */

import type { WaysInBuilding } from "../../../core/impact/answer.ts";
import { KINDS } from "../../../core/model/dictionary.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";

const keyOf = ({ kind, id }: RecordRef): string => `${kind} ${id}`;

export function OneBuilding({ one }: { readonly one: WaysInBuilding }) {
  const { building, separate, single_points: single } = one;
  const today = one.single_points_today ?? [];
  const always = new Set(single.map(keyOf));
  const marked = new Set([...always, ...today.map(keyOf)]);
  const points = [
    ...single.map((record) => ({ record, always: true })),
    ...today.filter((record) => !always.has(keyOf(record))).map((record) => ({ record, always: false })),
  ];
  return (
    <div className="ways-one">
      <Region name="drawing" label={say`The ways, from the building outward`} className="ways-drawn">
        {separate.length === 0 ? (
          <p>{say`No way from ${building.tag} to another building is on record.`}</p>
        ) : (
          separate.map((way, index) => (
            <section key={way.map(keyOf).join(" ")} aria-labelledby={`way-${index}`}>
              <h2 id={`way-${index}`}>{say`Way ${index + 1}`}</h2>
              <Way way={way} marked={marked} />
            </section>
          ))
        )}
      </Region>
      <Region name="ledger" label={say`What cuts it off`} className="ways-single">
        <h2>{say`What cuts ${building.tag} off by itself`}</h2>
        {points.length === 0 ? (
          <p className="soft">
            {separate.length === 0
              ? say`Nothing can be told while no way is on record.`
              : say`No single place, way or cable on record does.`}
          </p>
        ) : (
          <table>
            <thead>
              <tr>
                <th scope="col">{say`losing`}</th>
                <th scope="col">{say`is`}</th>
                <th scope="col">{say`cuts it off`}</th>
                <th scope="col">{say`and then`}</th>
              </tr>
            </thead>
            <tbody>
              {points.map(({ record, always }) => (
                <tr key={keyOf(record)}>
                  <th scope="row">
                    <TagLink record={record} strong />
                  </th>
                  <td>{KINDS[record.kind].one}</td>
                  <td>
                    <span className="state-word">
                      <FindingMark shape={always ? "error" : "warning"} />
                      {always ? say`however its glass is joined` : say`as its glass is joined today`}
                    </span>
                  </td>
                  <td>
                    <a className="link" href={addressOf("impact", { of: record.tag })}>
                      {say`What breaks with it?`}
                    </a>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        )}
      </Region>
    </div>
  );
}

/** Places as boxes, ways between them as lines with their names; what stands alone is marked, in shape and word. */
function Way({ way, marked }: { readonly way: readonly RecordRef[]; readonly marked: ReadonlySet<string> }) {
  return (
    <ol className="way">
      {way.map((record) => {
        const alone = marked.has(keyOf(record));
        return (
          <li
            key={keyOf(record)}
            className={`${record.kind === "space" || record.kind === "building" ? "way-place" : "way-length"}${alone ? " alone" : ""}`}
          >
            <TagLink record={record} href={addressOf("impact", { of: record.tag })} />
            {alone ? (
              <span className="way-alone">
                <FindingMark shape="error" />
                <span className="hush">{say`its loss cuts the building off`}</span>
              </span>
            ) : null}
          </li>
        );
      })}
    </ol>
  );
}
