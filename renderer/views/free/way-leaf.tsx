/** The way pointed at, as a list of work: which strands from where to where, and what joins them. */
import type { FreePairAnswer, FreeStretch, FreeWay } from "../../../core/free-pair/answer.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { Cautions } from "../../controls/cautions.tsx";
import { useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { addressOf } from "../../frame/router.ts";
import { decibels, verdictWords } from "../loss/words.ts";

interface Props {
  readonly answer: FreePairAnswer;
  readonly way: (FreeWay & { readonly number: number }) | null;
  readonly values: Readonly<Record<string, string>>;
}

export function WayLeaf({ answer, way, values }: Props) {
  return (
    <>
      {answer.cautions.length > 0 ? (
        <div className="leaf-cautions">
          <Cautions cautions={answer.cautions} />
        </div>
      ) : null}
      {way ? (
        <>
          <LeafHead tag={say`Way ${way.number}`}>
            {way.joints.length === 0 ? say`joined already: nothing is to be made` : say`in this order`}
          </LeafHead>
          {way.stretches.map((stretch, index) => (
            <div key={`${stretch.from.kind} ${stretch.from.id} ${stretch.to.id}`}>
              <Stretch stretch={stretch} />
              <Joint way={way} index={index} />
            </div>
          ))}
          {way.doubts.map((words) => (
            <p key={words} className="free-joint">
              {words}
            </p>
          ))}
          {way.kept_for_repair > 0 ? (
            <p className="free-joint">
              {plural(
                way.kept_for_repair,
                "{0} of its strands is kept for repair by the plant's policy.",
                "{0} of its strands are kept for repair by the plant's policy.",
              )}
            </p>
          ) : null}
          <Lost way={way} />
          <div className="leaf-acts">
            <a className="button" href={planAddress(answer, way.number, values)}>
              {say`Plan this way`}
            </a>
          </div>
        </>
      ) : null}
    </>
  );
}

/** The act that plans it, filled with what was asked. */
const planAddress = (answer: FreePairAnswer, way: number, { avoid, for: application }: Props["values"]): string =>
  addressOf("acts", {
    do: "free_pair.plan",
    from: answer.from.tag,
    to: answer.to.tag,
    strands: String(answer.strands),
    way: String(way),
    most: "10",
    ...(avoid ? { avoid } : {}),
    ...(application ? { application } : {}),
  });

function Lost({ way: { loss } }: { readonly way: FreeWay }) {
  if (!loss) return null;
  return (
    <LeafPart title={say`What light would lose`}>
      <Facts>
        {loss.wavelengths.map((one) => (
          <Fact key={one.wavelength_nm} name={`${one.wavelength_nm} nm`}>
            {one.worst_loss_db === null ? say`not known` : asKnown(decibels(one.worst_loss_db), one.complete)}
            {one.loss_db === null ? "" : say`, ${decibels(one.loss_db)} with typical values`}
          </Fact>
        ))}
        {loss.application ? (
          <Fact name={loss.application.application}>
            {verdictWords(loss.application)}
            {loss.application.margin_db === null ? "" : say`, ${decibels(loss.application.margin_db)} to spare`}
            {loss.application.reasons.map((reason) => (
              <span key={reason} className="free-under">
                {reason}
              </span>
            ))}
          </Fact>
        ) : null}
      </Facts>
      <p className="small soft">
        {say`By the`}{" "}
        <a className="link" href={addressOf("limits", {})}>
          {say`limits in use`}
        </a>
        {say`, each with its source.`}
      </p>
      {loss.assumptions.map((words) => (
        <p key={words} className="small faint">
          {words}
        </p>
      ))}
    </LeafPart>
  );
}

function Joint({ way, index }: { readonly way: FreeWay; readonly index: number }) {
  const joint = way.joints[index];
  if (!joint) return null;
  return (
    <p className="free-joint">
      <b>{joint.kind === "splice" ? counted(joint.count, "splice") : counted(joint.count, "cord")}</b>{" "}
      {sayWith`at ${<TagLink record={joint.space} />}`}
    </p>
  );
}

function Stretch({ stretch }: { readonly stretch: FreeStretch }) {
  const length = useLength();
  const first = stretch.strands[0]?.sections[0];
  return (
    <LeafPart>
      <p>
        {sayWith`${<TagLink record={stretch.from} />} to ${<TagLink record={stretch.to} />}`}
        {stretch.length_m === null ? "" : `, ${length(stretch.length_m)}`}
        {first ? (
          <>
            {" "}
            <a className="link small" href={addressOf("loss", { of: first.tag })}>
              {say`What does it lose?`}
            </a>
          </>
        ) : null}
      </p>
      <ul className="free-strands">
        {stretch.strands.map(({ from, to, sections }) => (
          <li key={sections.map(({ id }) => id).join(" ")}>
            {sections.map((section, index) => (
              <span key={section.id}>
                {index > 0 ? ", " : ""}
                <TagLink record={section} />
              </span>
            ))}
            <span className="small faint">
              {from.kind === "position" ? say`${from.tag} to ` : ""}
              {to.kind === "position" ? to.tag : ""}
            </span>
          </li>
        ))}
      </ul>
      {stretch.lacks.map((words) => (
        <p key={words} className="small faint">
          {words}
        </p>
      ))}
    </LeafPart>
  );
}
