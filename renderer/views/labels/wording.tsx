/** What is written on labels of one class, to be tried as it is typed and then kept with the plant. */
import { useId } from "react";
import { LABEL_CLASSES, NOT_OUTDOORS } from "../../../core/model/label-blanks.ts";
import type { AnswerOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { NotWritten, type WrittenOn } from "../../forms/written-on.tsx";
import { helpMark } from "../../frame/help-about.ts";
import type { Draft } from "./asked.ts";

type Wordings = AnswerOf<"label.wordings">;
type Wording = Wordings["wordings"][number];

const FROM = {
  plant: say`kept with the plant`,
  pattern: say`the plant's label wording`,
  usual: say`usual, until the plant has its own`,
} as const;

const CODES: Readonly<Record<Draft["code"], string>> = {
  qr: say`QR code`,
  data_matrix: say`Data Matrix`,
  none: say`no code`,
};

export interface WordingProps {
  readonly wording: Wording;
  readonly blanks: Wordings["blanks"];
  readonly draft: Draft | null;
  readonly fault: Failure | undefined;
  /** Why it could not be kept. */
  readonly refused: Failure | null;
  readonly onDraft: (draft: Draft | null) => void;
  readonly onKeep: () => void;
  /** Kept all the same, over the template as it stands now. */
  readonly onOver: (now: WrittenOn) => void;
  readonly busy: boolean;
}

export function WordingPanel(props: WordingProps) {
  const { wording, blanks, draft, fault, refused, onDraft, onKeep, onOver, busy } = props;
  const id = useId();
  const { place } = wording;
  const text = draft?.text ?? wording.text;
  const code = draft?.code ?? wording.code;
  const change = (more: Partial<Draft>): void => {
    const next = { place, text, code, ...more };
    onDraft(next.text === wording.text && next.code === wording.code ? null : next);
  };
  const offered = blanks.filter(({ name }) => place !== "outdoor" || !NOT_OUTDOORS.has(name));
  return (
    <section className="label-wording" aria-labelledby={`${id}-head`}>
      <h2 id={`${id}-head`}>{say`What is written: ${LABEL_CLASSES[place]}`}</h2>
      <p className="soft small">
        {draft ? say`being tried, not kept yet` : `“${wording.name}”, ${FROM[wording.from]}`}
      </p>
      <label className="form-field">
        <span>{say`Lines; a part in < > is left out where its blank is not on record`}</span>
        <textarea
          {...helpMark("label_template", "text")}
          className="form-input tag"
          rows={Math.max(4, text.split("\n").length)}
          value={text}
          spellCheck={false}
          aria-invalid={fault ? true : undefined}
          aria-describedby={fault ? `${id}-fault` : undefined}
          onChange={({ target }) => change({ text: target.value })}
        />
      </label>
      {fault ? (
        <p id={`${id}-fault`} className="label-fault" role="alert">
          {fault.problems[0] ? say`It ${fault.problems[0].reason}.` : fault.message}
        </p>
      ) : null}
      <div className="label-blanks">
        {offered.map(({ name, means }) => (
          <button
            key={name}
            type="button"
            className="label-blank"
            title={means}
            onClick={() => change({ text: `${text}{${name}}` })}
          >
            {name}
          </button>
        ))}
      </div>
      <div className="label-row">
        <label className="form-field">
          <span>{say`Code beside it, naming the record`}</span>
          <select
            {...helpMark("label_template", "code")}
            className="form-input"
            value={code}
            onChange={({ target }) => change({ code: target.value as Draft["code"] })}
          >
            {Object.entries(CODES).map(([value, words]) => (
              <option key={value} value={value}>
                {words}
              </option>
            ))}
          </select>
        </label>
        {draft ? (
          <>
            <Button onClick={onKeep} disabled={fault !== undefined} busy={busy ? say`Keeping` : null}>
              {wording.from === "plant" ? say`Change “${wording.name}”` : say`Keep with the plant`}
            </Button>
            <Button onClick={() => onDraft(null)}>{say`Drop it`}</Button>
          </>
        ) : null}
      </div>
      {refused ? <NotWritten failure={refused} onLeave={() => onDraft(null)} onOver={onOver} /> : null}
    </section>
  );
}
