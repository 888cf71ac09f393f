/** What new cable of a way is laid beside, leg by leg: the pipe, what lies in it, and how full it becomes. */
import type { MendWholePlan } from "../../../core/repair/answer.ts";
import type { LaidFill, LaidLeg } from "../../../core/repair/laid-leg.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";

const VERDICT: Readonly<Record<LaidLeg["verdict"], string>> = {
  room: say`has room`,
  old_out: say`only once the old one is out`,
  over: say`too full`,
  no_pipe: say`no pipe on record`,
  not_known: say`can\u2019t be told`,
};

const percent = (part: number): string => `${Math.round(part * 100)}\u202f%`;

function Fill({ of }: { readonly of: LaidFill | null }) {
  if (of === null) return <span className="faint">{say`not known`}</span>;
  return (
    <>
      {percent(of.fill)}
      {of.limit === null ? null : <span className="faint">{say` of ${percent(of.limit)}`}</span>}
    </>
  );
}

export function PlanLaid({
  plan,
  cable,
}: {
  readonly plan: MendWholePlan & { readonly number: number };
  readonly cable: RecordRef;
}) {
  if (plan.laid.length === 0) return null;
  const sources = [
    ...new Set(plan.laid.flatMap(({ with_old, without_old }) => [with_old?.source, without_old?.source])),
  ].flatMap((one) => one ?? []);
  return (
    <section className="locate-part" aria-labelledby="mend-laid">
      <h2 id="mend-laid">{say`Way ${plan.number}: what the new cable is laid beside`}</h2>
      <table className="mend-losses mend-laid">
        <thead>
          <tr>
            <th scope="col">{say`leg`}</th>
            <th scope="col">{say`laid in`}</th>
            <th scope="col">{say`beside`}</th>
            <th scope="col">{say`full with ${cable.tag} in it`}</th>
            <th scope="col">{say`full once ${cable.tag} is out`}</th>
            <th scope="col">{say`room`}</th>
          </tr>
        </thead>
        <tbody>
          {plan.laid.map((leg) => (
            <tr key={`${leg.between.join()}${leg.pipe?.id ?? leg.pathway?.id ?? ""}`}>
              <th scope="row">{unbroken(leg.between.join(say` to `))}</th>
              <td>
                {leg.pipe || leg.pathway ? (
                  <TagLink record={(leg.pipe ?? leg.pathway) as RecordRef} />
                ) : (
                  say`not on record`
                )}
              </td>
              <td>
                {leg.neighbours.length === 0
                  ? say`no other`
                  : leg.neighbours.map((one, index) => (
                      <span key={one.id}>
                        {index > 0 ? ", " : ""}
                        <TagLink record={one} />
                      </span>
                    ))}
              </td>
              <td>
                <Fill of={leg.with_old} />
              </td>
              <td>
                <Fill of={leg.without_old} />
              </td>
              <td>
                {leg.verdict === "over" || leg.verdict === "old_out" ? <FindingMark shape="warning" /> : null}
                {leg.verdict === "not_known" ? <FindingMark shape="gap" /> : null} {VERDICT[leg.verdict]}
                {leg.others[0] ? sayWith`; ${<TagLink record={leg.others[0]} />} has room` : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {sources.length > 0 ? <p className="small faint">{say`How full a pipe may be: ${sources.join("; ")}.`}</p> : null}
    </section>
  );
}
