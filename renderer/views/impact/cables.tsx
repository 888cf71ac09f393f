/** Cables that lose glass, and what says so. */
import type { ImpactCable } from "../../../core/impact/answer.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { addressOf } from "../../frame/router.ts";
import { Tags } from "./circuits.tsx";

export function Cables({ cables }: { readonly cables: readonly ImpactCable[] }) {
  return (
    <section className="impact-cables" aria-labelledby="impact-cables">
      <h2 id="impact-cables">{say`Cables that lose glass`}</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">{say`cable`}</th>
            <th scope="col" className="figure">
              {say`strands lost`}
            </th>
            <th scope="col">{say`with`}</th>
            <th scope="col">{say`on record as`}</th>
          </tr>
        </thead>
        <tbody>
          {cables.map(({ cable, strands, of, by, rests_on }) => (
            <tr key={cable.id}>
              <th scope="row">
                <TagLink record={cable} strong href={addressOf("cable", { of: cable.tag })} />
              </th>
              <td className="figure">{say`${count(strands)} of ${count(of)}`}</td>
              <td>
                <Tags records={by} />
              </td>
              <td className="soft impact-tags">
                <Tags records={rests_on} />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
