/** Buildings that are hit: dark or lit, and how much of their glass stays whole, drawn as one bar each. */
import type { ImpactBuilding } from "../../../core/impact/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { Sign } from "../../drawing/at.tsx";
import { addressOf } from "../../frame/router.ts";

/** Dark ones first, then those that lose the most circuits. */
const inOrder = (one: ImpactBuilding, other: ImpactBuilding): number =>
  Number(other.dark) - Number(one.dark) || other.circuits - one.circuits;

/** So many circuits that stay are written out. */
const LIT_SHOWN = 6;

export function Buildings({ buildings }: { readonly buildings: readonly ImpactBuilding[] }) {
  return (
    <table className="impact-buildings" aria-label={say`Buildings that are hit`}>
      <thead>
        <tr>
          <th scope="col">{say`building`}</th>
          <th scope="col" className="impact-state">
            {say`then`}
          </th>
          <th scope="col" className="impact-strands">
            {say`strands from outside that stay whole`}
          </th>
          <th scope="col" className="impact-lost figure">
            {say`circuits lost`}
          </th>
          <th scope="col">{say`stay lit`}</th>
        </tr>
      </thead>
      <tbody>
        {buildings.toSorted(inOrder).map((building) => (
          <tr key={building.building.id}>
            <th scope="row">
              <TagLink record={building.building} strong href={addressOf("feeds", { of: building.building.tag })} />{" "}
              <span className="soft">{building.name}</span>
              {building.is_lost ? <span className="faint small">{say` among what is lost`}</span> : null}
            </th>
            <td>
              <After building={building} />
            </td>
            <td>
              <StaysWhole building={building} />
            </td>
            <td className="figure">{building.circuits === 0 ? say`none` : count(building.circuits)}</td>
            <td className="impact-lit">
              <Lit building={building} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function After({ building: { dark, circuits, lit } }: { readonly building: ImpactBuilding }) {
  const words = dark ? say`dark` : lit.length > 0 ? (circuits > 0 ? say`lit in part` : say`lit`) : say`no circuit`;
  return (
    <span className="state-word">
      <Sign>
        {dark ? (
          <rect x="-5" y="-5" width="10" height="10" fill="currentColor" />
        ) : lit.length > 0 ? (
          <>
            <rect x="-4.4" y="-4.4" width="8.8" height="8.8" fill="none" stroke="currentColor" strokeWidth="1.5" />
            {circuits > 0 ? <path d="M-4.4 0H4.4V4.4H-4.4Z" fill="currentColor" /> : null}
          </>
        ) : (
          <path d="M-4 0H4" stroke="currentColor" strokeWidth="1.5" />
        )}
      </Sign>
      {dark ? <b>{words}</b> : words}
    </span>
  );
}

const BAR = 120;

/** A full bar is every strand that comes in; what is lost of it is left hollow. */
function StaysWhole({ building: { whole_strands: whole, strands } }: { readonly building: ImpactBuilding }) {
  if (strands === 0) return <span className="faint">{say`none come in`}</span>;
  const width = (BAR * whole) / strands;
  return (
    <span className="impact-bar">
      <svg width={BAR + 2} height="11" aria-hidden="true">
        <rect x="0.75" y="0.75" width={BAR} height="9.5" fill="none" stroke="var(--ink2)" />
        {whole > 0 ? <rect x="0.75" y="0.75" width={Math.max(1, width)} height="9.5" fill="var(--ink2)" /> : null}
      </svg>
      {say`${count(whole)} of ${count(strands)}`}
    </span>
  );
}

function Lit({ building: { lit } }: { readonly building: ImpactBuilding }) {
  if (lit.length === 0) return <span className="faint">{say`none`}</span>;
  return (
    <>
      {lit.slice(0, LIT_SHOWN).map((circuit, index) => (
        <span key={circuit.id}>
          {index > 0 ? ", " : ""}
          <TagLink record={circuit} />
        </span>
      ))}
      {lit.length > LIT_SHOWN ? (
        <span className="soft" title={lit.map(({ tag }) => tag).join(", ")}>
          {" "}
          {say`and ${counted(lit.length - LIT_SHOWN, "more", "more")}`}
        </span>
      ) : null}
    </>
  );
}
