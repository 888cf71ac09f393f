/** Cables that others mend: whom to call, by day and by night, and what of ours is down with them. */
import { Fragment, type ReactNode } from "react";
import type { MendCircuit, MendTheirs } from "../../../core/repair/answer.ts";
import type { RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Heads } from "../../controls/heads.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";

interface Foreign {
  readonly cable: RecordRef;
  readonly owner: MendTheirs;
  readonly circuits?: readonly MendCircuit[];
}

export function NotOurs({ label, of }: { readonly label: string; readonly of: readonly Foreign[] }) {
  const circuits = of.some((one) => one.circuits !== undefined);
  return (
    <section className="locate-part" aria-labelledby="mend-theirs">
      <h2 id="mend-theirs">
        <FindingMark shape="hazard" /> {label}
      </h2>
      <table className="mend-losses">
        <Heads
          of={[
            say`cable`,
            say`who mends it`,
            say`by day`,
            say`by night`,
            ...(circuits ? [say`down, by priority`] : []),
          ]}
        />
        <tbody>
          {of.map((one) => (
            <tr key={one.cable.id}>
              <th scope="row">
                <TagLink record={one.cable} />
              </th>
              <td>
                {one.owner.name ? `${one.owner.name}, ` : ""}
                <TagLink record={one.owner.party} />
              </td>
              <td>{one.owner.day ?? say`not on record`}</td>
              <td>{one.owner.night ?? say`not on record`}</td>
              {circuits ? <td>{circuitsOf(one.circuits ?? [])}</td> : null}
            </tr>
          ))}
        </tbody>
      </table>
      <p className="small faint">
        {say`No way is planned for what others mend, and nobody else opens it without their leave.`}
      </p>
    </section>
  );
}

const circuitsOf = (circuits: readonly MendCircuit[]): ReactNode =>
  circuits.length === 0
    ? say`no circuit of ours on record`
    : circuits.map(({ circuit, priority }, index) => (
        <Fragment key={circuit.id}>
          {index > 0 ? ", " : ""}
          <span className="mend-tag">
            {circuit.tag}
            {priority === null ? "" : ` (${priority})`}
          </span>
        </Fragment>
      ));
