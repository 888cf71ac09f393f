/** The pipe pointed at: what it is, what is in it, and what its fill is held against. */

import { kindOf } from "../../../core/model/dictionary.ts";
import type { PathwayAnswer, Pipe } from "../../../core/pathway/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { Lacks } from "../../controls/lacks.tsx";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";
import { fillWords, percent, STATE_WORDS, tooFull } from "./words.ts";

const kinds = kindOf("pathway").fields.kind;
const KIND_WORDS: Readonly<Record<string, string>> = kinds?.type === "choice" ? kinds.values : {};

export function PipeLeaf({ way, pipe }: { readonly way: PathwayAnswer; readonly pipe: Pipe | null }) {
  const length = useLength();
  return (
    <>
      {pipe ? <OnePipe pipe={pipe} /> : null}
      <LeafHead tag={<TagLink record={way.pathway} strong />}>
        {way.name ?? (way.kind ? KIND_WORDS[way.kind] : "")}
      </LeafHead>
      <Facts>
        <Fact name={say`From`}>{way.from ? <TagLink record={way.from} /> : say`not given`}</Fact>
        <Fact name={say`To`}>{way.to ? <TagLink record={way.to} /> : say`not given`}</Fact>
        <Fact name={say`Length`}>{way.length_m === null ? say`not given` : length(way.length_m)}</Fact>
      </Facts>
    </>
  );
}

function OnePipe({ pipe }: { readonly pipe: Pipe }) {
  const { conduit, occupants, fill_limit: limit, jams, jam_ratio: ratio, lacks } = pipe;
  return (
    <div className="bank-leaf">
      <LeafHead tag={<TagLink record={conduit} strong />}>{fillWords(pipe)}</LeafHead>
      <Facts>
        <Fact name={say`State`}>{pipe.state ? STATE_WORDS[pipe.state] : say`not said`}</Fact>
        <Fact name={say`Bore`}>
          {pipe.inner_diameter_mm === null ? say`not given` : `${pipe.inner_diameter_mm}\u202fmm`}
        </Fact>
        <Fact name={say`Sold as`}>{pipe.trade_size}</Fact>
        <Fact name={say`Colour`}>{pipe.colour}</Fact>
        <Fact name={say`Pull line`}>
          {pipe.pull_line === null ? null : pipe.pull_line ? say`lies in it` : say`none`}
        </Fact>
      </Facts>
      {occupants.length > 0 ? (
        <LeafPart title={say`In it`}>
          <ul className="bank-occupants">
            {occupants.map(({ cable, life, strands, outer_diameter_mm: mm, legs }) => (
              <li key={cable.id}>
                <TagLink record={cable} href={addressOf("cable", { of: cable.tag })} />{" "}
                <span className="soft">
                  {mm === null ? say`diameter not given` : `${mm}\u202fmm`},{" "}
                  {strands === 0 ? say`strands not given` : counted(strands, "strand")}
                  {life === "out_of_use" ? say`, out of use` : ""}
                  {legs.length > 1 ? say`, ${legs.length} times` : ""}
                </span>
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      {limit || lacks.length > 0 ? (
        <LeafPart title={say`What its fill is held against`}>
          {lacks.length > 0 ? <Lacks words={lacks.map((words) => say`Not on record: ${words}.`)} /> : null}
          {limit ? (
            <p className="signed bank-note">
              {tooFull(pipe) ? <FindingMark shape="advice" /> : null}
              <span>
                {sayWith`At most ${percent(limit.value)} is usual. ${<span className="soft">{limit.source}.</span>}`}
              </span>
            </p>
          ) : null}
          {jams ? (
            <p className="signed bank-note">
              <FindingMark shape="warning" />
              <span>
                {sayWith`Three cables alike, and the bore is ${ratio} times their diameter: between ${jams.from} and ${jams.to} they jam at a bend. ${<span className="soft">{jams.source}.</span>}`}
              </span>
            </p>
          ) : null}
        </LeafPart>
      ) : null}
      <p className="bank-goes">
        <a className="link" href={addressOf("impact", { of: conduit.tag })}>
          {say`What breaks with this pipe?`}
        </a>
      </p>
    </div>
  );
}
