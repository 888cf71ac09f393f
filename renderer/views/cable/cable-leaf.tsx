/** How the cable is built, and the strand pointed at. */

import { basisWords } from "../../../core/model/wording.ts";
import type { CableAnswer, CableStrand } from "../../../core/trace/cable-answer.ts";
import { say } from "../../../core/words/say.ts";
import { AttachedSmall } from "../../controls/attached.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { recordAddress, TagLink } from "../../controls/tag-link.tsx";
import { Run } from "../../drawing/run.tsx";
import { StateWord } from "../../drawing/states.tsx";
import { dayWords } from "../../frame/ages.ts";
import { addressOf } from "../../frame/router.ts";

export interface CableLeafProps {
  readonly sheet: CableAnswer;
  readonly strand: CableStrand | null;
  readonly far: boolean;
}

export function CableLeaf({ sheet, strand }: CableLeafProps) {
  const length = useLength();
  return (
    <>
      {/* First, so that nobody has to scroll to what may hurt them. */}
      {sheet.cautions.length > 0 ? (
        <div className="leaf-cautions">
          <Cautions cautions={sheet.cautions} />
        </div>
      ) : null}
      {strand ? <StrandPart strand={strand} sheet={sheet} /> : null}
      <LeafHead tag={<TagLink record={sheet.cable} strong />}>{sheet.name ?? say`cable`}</LeafHead>
      <Facts>
        <Fact name={say`Type`}>{sheet.type ? <TagLink record={sheet.type} /> : say`not given`}</Fact>
        {sheet.facts.map(({ label, value }) => (
          <Fact key={label} name={label.charAt(0).toUpperCase() + label.slice(1)}>
            {value}
          </Fact>
        ))}
        <Fact name={say`Known by`}>{basisWords(sheet.basis) || say`not said`}</Fact>
        <Fact name={say`Last visit`}>{sheet.last_visit ? dayWords(sheet.last_visit) : say`none on record`}</Fact>
      </Facts>
      <LeafPart title={say`Length`}>
        <Facts>
          <Fact name={say`Sheath`}>{sheet.length_m === null ? say`not given` : length(sheet.length_m)}</Fact>
          <Fact name={say`Coiled`}>{sheet.coils_m === null ? say`not all known` : length(sheet.coils_m)}</Fact>
          <Fact name={say`Lacks`}>{sheet.lacks.length > 0 ? sheet.lacks.join("; ") : null}</Fact>
        </Facts>
      </LeafPart>
      <AttachedSmall record={sheet.cable} />
      <div className="leaf-acts">
        <a className="button" href={recordAddress(sheet.cable)}>
          {say`Open its page`}
        </a>
        <a className="button" href={addressOf("plan", { of: sheet.cable.tag })}>
          {say`Where does it lie on the campus?`}
        </a>
        <a className="button" href={addressOf("fitness", { of: sheet.cable.tag })}>
          {say`Does it belong where it lies?`}
        </a>
        <a className="button" href={addressOf("impact", { of: sheet.cable.tag })}>
          {say`What breaks with it?`}
        </a>
      </div>
    </>
  );
}

function StrandPart({ strand, sheet }: { readonly strand: CableStrand; readonly sheet: CableAnswer }) {
  const stopName = (index: number | null): string =>
    index === null ? "?" : (sheet.stops[index]?.place.space?.tag ?? say`a place not known`);
  return (
    <div className="leaf-strand">
      <LeafHead tag={<TagLink record={strand.strand} strong />}>
        {strand.colours.map(({ words }) => words).join(", ")}
      </LeafHead>
      <svg className="leaf-run" width="100%" height="22" aria-hidden="true">
        <Run course={{ x1: 0, y1: 11, x2: "100%", y2: 11 }} colours={strand.colours} width={20} />
      </svg>
      {strand.sections.map((section) => (
        <div key={section.section.id} className="leaf-section">
          <StateWord state={section.state} />{" "}
          {section.circuits.map((circuit) => (
            <TagLink key={circuit.id} record={circuit} />
          ))}
          <div className="soft small">
            {strand.sections.length > 1 ? say`${stopName(section.from)} to ${stopName(section.to)}` : ""}
            {section.why ? ` ${section.why}` : ""}
          </div>
          <a className="link" href={addressOf("find", { of: section.section.tag })}>
            {strand.sections.length > 1
              ? sayWith`Where does ${<span className="tag">{section.section.tag}</span>} go?`
              : say`Where does it go?`}
          </a>
        </div>
      ))}
    </div>
  );
}
