/** What lies in a way? Its pipes cut across as they stand in the bank, what is in each, and how full it is. */
import type { PathwayAnswer } from "../../../core/pathway/answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Sentence } from "../../controls/sentence.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { GhostSheath } from "../../drawing/ghosts.tsx";
import { useCurrentView } from "../../frame/current-view.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { isBlank, type Part, type ViewProps } from "../view.ts";
import { Bank } from "./bank.tsx";
import { Enlarged } from "./enlarged.tsx";
import { PipeLeaf } from "./pipe-leaf.tsx";
import { Loose, Pipes } from "./pipes.tsx";
import "./pathway.css";

export function Pathway({ values }: ViewProps) {
  const of = values.of ?? "";
  const { view } = useCurrentView();
  const answer = useAnswer("pathway.show", of ? { what: of } : null);
  if (!of) {
    return (
      <Page answer={say`Fill the blank with a pathway, such as DB-04, or one of its pipes.`}>
        <div className="teach">
          <GhostSheath />
          <p>{say`Its pipes as they stand in the bank, the cables in each, how full it is, and which are still empty.`}</p>
        </div>
      </Page>
    );
  }
  const told = answer.value;
  if (!told) {
    return (
      <Page>
        <Answered answer={answer} asked={of} word={say`Looking into it`}>
          {() => null}
        </Answered>
      </Page>
    );
  }
  const asked = told.pipes.find(({ conduit }) => conduit.tag === of);
  const selected = told.pipes.find(({ conduit }) => String(conduit.id) === values.at) ?? asked ?? told.pipes[0] ?? null;
  const select = (at: string): void => goWith({ at }, { replace: true });
  const mirrored = values.from === "to";
  const here = mirrored ? told.to : told.from;
  const records = [told.pathway, ...told.pipes.map(({ conduit }) => conduit)];
  return (
    <Page
      sentence={<Sentence parts={questionOf(view.question, told)} values={values} />}
      answer={<Tagged text={told.sentence} records={records} />}
      acts={
        <>
          <a className="button" href={addressOf("fit", { ways: selected?.conduit.tag ?? told.pathway.tag })}>
            {say`Would a cable fit?`}
          </a>
          <a className="button" href={addressOf("impact", { of: told.pathway.tag })}>
            {say`What breaks with it?`}
          </a>
          <a className="button" href={addressOf("mend", { of: selected?.conduit.tag ?? told.pathway.tag })}>
            {say`It is cut: how is it mended?`}
          </a>
        </>
      }
      leaf={<PipeLeaf way={told} pipe={selected} />}
    >
      {told.pipes.length > 0 ? (
        <Region name="drawing" label={say`The pipes, cut across`} className="half-drawing bank-drawing">
          <div className="bank-beside">
            <Bank
              pipes={told.pipes}
              mirrored={mirrored}
              selected={selected?.conduit.id ?? null}
              onSelect={select}
              label={say`${told.pathway.tag} cut across: ${counted(told.pipes.length, "pipe", "pipes")}.`}
            />
            {selected ? <Enlarged pipe={selected} pipes={told.pipes} /> : null}
          </div>
          <p className="bank-key small faint">
            {isPlaced(told) ? (
              <>
                {say`As seen from `}
                {here ? <TagLink record={here} /> : mirrored ? say`its to end` : say`its from end`}
                {". "}
              </>
            ) : (
              say`In order of their numbers: where each stands in the bank is not on record. `
            )}
            {say`Bores and cables to one scale; dashed where a diameter is not on record, hollow where a cable is out of use.`}
          </p>
        </Region>
      ) : null}
      <Region name="ledger" label={say`Pipes and cables`} className="half-ledger bank-ledger">
        {told.pipes.length > 0 ? <Pipes pipes={told.pipes} selected={selected} onSelect={select} /> : null}
        {told.loose.length > 0 ? <Loose loose={told.loose} alone={told.pipes.length === 0} /> : null}
        {told.pipes.length + told.loose.length === 0 ? (
          <p className="bank-none">
            <a className="link" href={addressOf("enter", { kind: "conduit", in: told.pathway.tag })}>
              {say`Enter its pipes`}
            </a>
          </p>
        ) : null}
      </Region>
    </Page>
  );
}

const isPlaced = ({ pipes }: PathwayAnswer): boolean =>
  pipes.every(({ inside, row, column }) => inside !== null || (row !== null && column !== null));

/** The question with the names of this way's ends. */
function questionOf(question: readonly Part[], { from, to }: PathwayAnswer): readonly Part[] {
  const words = [from?.tag ?? say`its from end`, to?.tag ?? say`its to end`];
  return question.map((part) =>
    isBlank(part) && part.fill === "choice"
      ? { ...part, choices: part.choices.map((choice, index) => ({ ...choice, words: words[index] ?? choice.words })) }
      : part,
  );
}
