/** Each line with what it is understood as; where it can be read in several ways, the choice among them. */
import type { LineFate, LineOutcome, NotesRehearsal } from "../../../core/as-built/notes/rehearse.ts";
import { FATE_WORDS } from "../../../core/model/wording.ts";
import { say } from "../../../core/words/say.ts";
import { TagText } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FateMark, FindingMark } from "../../drawing/findings.tsx";

export interface Choices {
  readonly answers: Readonly<Record<string, number>>;
  readonly leave_out: number[];
  readonly tell: number[];
}

function Mark({ fate }: { readonly fate: LineFate }) {
  if (fate === "new" || fate === "changed" || fate === "same" || fate === "refused") return <FateMark fate={fate} />;
  if (fate === "ask") return <FindingMark shape="warning" />;
  return fate === "told" ? <FindingMark shape="advice" /> : null;
}

interface Props {
  readonly plan: NotesRehearsal;
  readonly choices: Choices;
  readonly choose: (choices: Choices) => void;
}

export function LineFates({ plan, choices, choose }: Props) {
  return (
    <table className="line-fates">
      <thead>
        <tr>
          <th scope="col" className="figure">
            {say`line`}
          </th>
          <th scope="col">{say`written`}</th>
          <th scope="col">{say`fate`}</th>
          <th scope="col">{say`understood as`}</th>
          <th scope="col">{say`take it`}</th>
        </tr>
      </thead>
      <tbody>
        {plan.lines.map((line) => (
          <tr key={line.line} className={`fate-${line.fate}`}>
            <td className="figure">{line.line}</td>
            <td className="tag">{line.text}</td>
            <td className="row-fate">
              <Mark fate={line.fate} /> {FATE_WORDS[line.fate]}
            </td>
            <td>
              <Understood line={line} choices={choices} choose={choose} />
            </td>
            <td>
              <Take line={line} choices={choices} choose={choose} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

interface LineProps {
  readonly line: LineOutcome;
  readonly choices: Choices;
  readonly choose: (choices: Choices) => void;
}

function Understood({ line, choices, choose }: LineProps) {
  const { words, ways, problems, notices } = line;
  const answer = choices.answers[line.line] ?? 0;
  return (
    <>
      {ways.length > 0 ? (
        <label className="line-ways">
          <span className="hush">{say`Line ${line.line}: which is meant?`}</span>
          <select
            className="form-input"
            value={answer}
            onChange={(event) => {
              const { [line.line]: _, ...others } = choices.answers;
              const chosen = Number(event.target.value);
              choose({ ...choices, answers: chosen === 0 ? others : { ...others, [line.line]: chosen } });
            }}
          >
            <option value={0}>{answer === 0 ? words : say`Which is meant?`}</option>
            {ways.map((way, i) => (
              <option key={way} value={i + 1}>
                {way}
              </option>
            ))}
          </select>
        </label>
      ) : (
        unbroken(words)
      )}
      {problems.map((problem) => (
        <span key={JSON.stringify(problem)} className="line-why">
          {line.fate === "told" ? say`It ` : ""}
          {line.fate !== "told" && problem.record ? <TagText of={problem.record} /> : null} {unbroken(problem.reason)}
        </span>
      ))}
      {notices.map((notice) => (
        <span key={notice} className="line-why">
          {unbroken(notice)}
        </span>
      ))}
    </>
  );
}

const TAKES = { do: say`as understood`, tell: say`as told`, leave_out: say`not at all` } as const;

function Take({ line, choices, choose }: LineProps) {
  const own = choices.tell.includes(line.line) ? "tell" : choices.leave_out.includes(line.line) ? "leave_out" : "do";
  const untold = line.fate === "told" && own === "do";
  const without = (numbers: readonly number[]) => numbers.filter((number) => number !== line.line);
  return (
    <label>
      <span className="hush">{say`Line ${line.line}: take it`}</span>
      <select
        className="form-input"
        value={own}
        onChange={(event) => {
          const next = event.target.value as keyof typeof TAKES;
          const tell = without(choices.tell);
          const leave_out = without(choices.leave_out);
          if (next === "tell") tell.push(line.line);
          if (next === "leave_out") leave_out.push(line.line);
          choose({ ...choices, tell, leave_out });
        }}
      >
        {(Object.keys(TAKES) as (keyof typeof TAKES)[])
          .filter((one) => !(untold && one === "tell"))
          .map((one) => (
            <option key={one} value={one}>
              {one === "do" && untold ? say`as told` : TAKES[one]}
            </option>
          ))}
      </select>
    </label>
  );
}
