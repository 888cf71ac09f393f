/** Where nobody knows the place of the cut: what finding it would allow, part by part of the leg. */
import type { MendWhole } from "../../../core/repair/answer.ts";
import type { MendNarrowed } from "../../../core/repair/narrowed-answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { Heads } from "../../controls/heads.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";

export function Narrowed({ answer: { cable, cut, narrowed } }: { readonly answer: MendWhole }) {
  const length = useLength();
  if (cut.stretch_m === null) return null;
  const range = ([least, most]: readonly [number, number]): string =>
    length(least) === length(most) ? (most === 0 ? say`none` : length(most)) : say`${length(least)} to ${length(most)}`;
  /** The ways of a cut in the middle of a part. */
  const there = ({ from_m, to_m }: MendNarrowed): string =>
    addressOf("mend", {
      of: cable.tag,
      after: cut.after?.tag ?? "",
      until: cut.until?.tag ?? "",
      metres: String(Math.round((from_m + to_m) * 5) / 10),
    });
  const from = cut.between[0]?.tag ?? say`the first place`;
  return (
    <section className="locate-part" aria-labelledby="mend-narrowed">
      <h2 id="mend-narrowed">{say`What finding the break would allow`}</h2>
      {narrowed.length === 0 ? (
        <p>{say`No better way: wherever between the two it is, these are all there are.`}</p>
      ) : (
        <table className="mend-losses mend-narrowed">
          <Heads
            of={[say`found so far from ${from}`, say`a better way`, say`from coils`, say`new cable`, say`all ways`]}
          />
          <tbody>
            {narrowed.map((part) => (
              <tr key={part.from_m}>
                <th scope="row">{range([part.from_m, part.to_m])}</th>
                <td>
                  {unbroken(part.words)}
                  {part.to_prove.length > 0 ? (
                    <span className="mend-under">
                      {sayWith`${<FindingMark shape="gap" />} to prove: ${unbroken(part.to_prove.join("; "))}`}
                    </span>
                  ) : null}
                </td>
                <td>{range(part.pulled_m)}</td>
                <td>{range(part.new_cable_m)}</td>
                <td>
                  <a className="link" href={there(part)}>
                    {say`if cut there`}
                  </a>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </section>
  );
}
