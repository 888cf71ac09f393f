/** Which papers are there? What each is for, and a button that prints it. */
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import { counted } from "../../../core/words/counted.ts";
import { either, withArticle } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { NearBy } from "../../controls/near-by.tsx";
import { PaperChoice, PrintButton } from "../../controls/print-button.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import type { ViewProps } from "../view.ts";
import { PAPERS, type Paper } from "./papers.ts";
import { SpliceTable } from "./splice-table.tsx";
import "./papers.css";

export function Papers({ values }: ViewProps) {
  const of = values.of ?? "";
  const answer = useAnswer("address.resolve", of ? { text: of } : null);
  if (!of) {
    return (
      <Page
        acts={<PaperChoice />}
        answer={say`Fill the blank, and what can be printed of that record stands first. Without it there are the papers of the whole plant.`}
      >
        <PaperList label={say`Papers`} papers={PAPERS} of="" />
      </Page>
    );
  }
  const kinds = answer.value ? kindsOf(answer.value) : [];
  const fitting = PAPERS.filter((paper) => paper.kinds.some((kind) => kinds.includes(kind)));
  return (
    <Page acts={<PaperChoice />} answer={answer.value ? sentence(of, kinds, fitting.length) : null}>
      <Answered answer={answer} asked={of} word={say`Looking it up`}>
        {() =>
          fitting.length > 0 ? (
            <PaperList label={say`Papers of ${of}`} papers={fitting} of={of} />
          ) : (
            <NearBy asked={of} />
          )
        }
      </Answered>
    </Page>
  );
}

/** What the text names: records, strands of a cable, ports. */
function kindsOf({ matches, strands, ports }: AnswerOf<"address.resolve">): readonly KindName[] {
  return [
    ...new Set<KindName>([
      ...matches.map(({ kind }) => kind),
      ...(strands.length > 0 ? (["strand"] as const) : []),
      ...(ports.length > 0 ? (["port"] as const) : []),
    ]),
  ];
}

function sentence(of: string, kinds: readonly KindName[], papers: number): string {
  if (kinds.length === 0) return say`Nothing on record is called ${of}.`;
  const what = either(kinds.map((kind) => withArticle(KINDS[kind].one)));
  return papers === 0
    ? say`There is no paper of ${of}, ${what}.`
    : say`${of} is ${what}: ${counted(papers, "paper", "papers")}.`;
}

function PaperList({
  label,
  papers,
  of,
}: {
  readonly label: string;
  readonly papers: readonly Paper[];
  readonly of: string;
}) {
  return (
    <Region name="ledger" label={label} className="papers">
      {papers.map((paper) => (
        <section key={paper.title} aria-labelledby={idOf(paper)}>
          <div>
            <h2 id={idOf(paper)}>{paper.title}</h2>
            <p className="faint small">{ofWords(paper)}</p>
          </div>
          <p>{paper.use}</p>
          <div className="papers-print">
            {of !== "" || paper.whole ? (
              <Print paper={paper} of={of} />
            ) : (
              <p className="faint small">{say`once the blank above names one`}</p>
            )}
            {of !== "" && paper.make(of).name === "paper.splice_sheet" ? <SpliceTable of={of} /> : null}
          </div>
        </section>
      ))}
    </Region>
  );
}

const idOf = ({ title }: Paper): string => `paper-${title.toLowerCase().replaceAll(" ", "-")}`;

function ofWords({ kinds, whole }: Paper): string {
  const own = kinds.map((kind) => KINDS[kind].one);
  return say`of ${[...own, ...(whole ? [say`the whole plant`] : [])].join(", ")}`;
}

function Print({ paper, of }: { readonly paper: Paper; readonly of: string }) {
  const { name, input } = paper.make(of);
  return (
    <PrintButton name={name} input={input} sizeless>
      {say`Print the ${paper.title.toLowerCase()}`}
    </PrintButton>
  );
}
