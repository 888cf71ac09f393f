/** The two moments that are compared: who wrote in between, what was signed, and the plant of the earlier one as a file. */
import type { AnswerOf } from "../../../core/operations/list.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { AsOf } from "./as-of.tsx";

type Comparison = AnswerOf<"history.compare">;

const AT = new Intl.DateTimeFormat("en-GB", { dateStyle: "medium", timeStyle: "short" });

export function MomentsLeaf({ compared }: { readonly compared: Comparison }) {
  const { from, to, authors, change_sets } = compared;
  return (
    <>
      <LeafHead tag={change_sets === 0 ? say`Nothing was written` : counted(change_sets, "change", "changes")}>
        {say`in between, undoing and redoing included`}
      </LeafHead>
      {authors.length > 0 ? (
        <LeafPart title={say`By whom`}>
          <Facts>
            {authors.map(({ author, change_sets: n }) => (
              <Fact key={author} name={author}>
                {count(n)}
              </Fact>
            ))}
          </Facts>
        </LeafPart>
      ) : null}
      <LeafPart title={say`From`}>
        <MomentFacts moment={from} />
      </LeafPart>
      <LeafPart title={say`To`}>
        <MomentFacts moment={to} />
      </LeafPart>
      {from.day ? (
        <LeafPart title={say`The plant as it stood`}>
          <AsOf key={from.day} day={from.day} />
        </LeafPart>
      ) : null}
    </>
  );
}

function MomentFacts({ moment }: { readonly moment: Comparison["from"] }) {
  const { at, author, summary, change_set, sign_off: signed, words } = moment;
  return (
    <>
      <p>{words}</p>
      <Facts>
        <Fact name={say`last change`}>{change_set === 0 ? say`none yet` : `${change_set}: ${summary}`}</Fact>
        <Fact name={say`by`}>{author}</Fact>
        <Fact name={say`at`}>{at ? AT.format(new Date(at)) : null}</Fact>
        {signed ? (
          <Fact name={say`digest signed`}>
            <span className="tag">{signed.content_hash.slice(0, 12)}</span>{" "}
            {signed.intact ? say`agrees with the history of this file` : say`is not that of this file's history`}
          </Fact>
        ) : null}
      </Facts>
    </>
  );
}
