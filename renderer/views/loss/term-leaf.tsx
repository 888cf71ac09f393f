/** The part pointed at: what it loses, how that is known, where the number comes from, and what it rests on. */
import type { LineLoss, LossAnswer } from "../../../core/light/answer.ts";
import type { LossTerm } from "../../../core/light/terms.ts";
import { KINDS } from "../../../core/model/dictionary.ts";
import { FIBRE_CLASSES } from "../../../core/model/lists.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { recordAddress, TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { BASIS_WORDS, decibels, KIND_WORDS } from "./words.ts";

const CAUTIONS = [
  say`Treat every end as lit: this light cannot be seen. Don't look into an end or a plug; cap what you unplug.`,
  say`A calculated loss is not a measurement: measure before you rely on it.`,
];

interface Props {
  readonly answer: LossAnswer;
  readonly line: LineLoss;
  readonly term: LossTerm | null;
}

export function TermLeaf({ answer, line, term }: Props) {
  const length = useLength();
  return (
    <>
      <div className="leaf-cautions">
        <Cautions cautions={CAUTIONS} />
      </div>
      {term ? <OneTerm term={term} /> : null}
      <LeafPart title={say`How it is reckoned`}>
        <Facts>
          <Fact name={say`As`}>
            {line.as === "link" ? say`link` : say`channel`}: {line.ends}
          </Fact>
          <Fact name={say`Edition`}>{answer.edition_words}</Fact>
          <Fact name={say`Reference`}>{KINDS.measurement.fields.reference_method.values[answer.reference_method]}</Fact>
          <Fact name={say`Glass`}>
            {line.length_m === null
              ? say`length not known`
              : `${length(line.length_m)}${line.length_complete ? "" : say`, and more that is not given`}${
                  line.ends_bare ? say`, and cords that are not on record` : ""
                }`}
          </Fact>
          <Fact name={say`Class`}>
            {line.classes.length > 0
              ? line.classes.map((one) => FIBRE_CLASSES[one]).join(say`, then `)
              : say`not given`}
          </Fact>
        </Facts>
        {[...line.assumptions, ...line.doubts].map((words) => (
          <p key={words} className="leaf-words">
            {words}
          </p>
        ))}
      </LeafPart>
    </>
  );
}

function OneTerm({ term }: { readonly term: LossTerm }) {
  return (
    <div className="leaf-one">
      <LeafHead
        tag={
          <span className="loss-head">
            <Tagged text={term.words} records={[term.record]} />
          </span>
        }
      >
        {KIND_WORDS[term.kind]}
      </LeafHead>
      <Facts>
        <Fact name={say`Loss`}>{term.loss_db === null ? say`not known` : decibels(term.loss_db, 3)}</Fact>
        <Fact name={say`At least`}>{decibels(term.least_db, 3)}</Fact>
        <Fact name={say`Basis`}>{BASIS_WORDS[term.basis]}</Fact>
        <Fact name={say`Source`}>{term.source}</Fact>
        <Fact name={say`Lacks`}>{term.lacks}</Fact>
      </Facts>
      {term.replaces.length > 0 ? (
        <LeafPart title={say`It stands for`}>
          <ul className="leaf-list">
            {term.replaces.map((one) => (
              <li key={`${one.kind} ${one.hop} ${one.record.id}`}>{one.words}</li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      {term.rests_on.length > 0 ? (
        <LeafPart title={say`What it rests on`}>
          <ul className="leaf-rests">
            {term.rests_on.map((ref) => (
              <li key={`${ref.kind} ${ref.id}`}>
                <span className="soft">{KINDS[ref.kind].one}</span> <TagLink record={ref} />
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      <div className="leaf-acts">
        <a className="button" href={recordAddress(term.record)}>
          {say`Open its page`}
        </a>
      </div>
    </div>
  );
}
