/** What does light lose along a line, part by part, and what can it carry? */
import type { LineLoss, LossAnswer } from "../../../core/light/answer.ts";
import type { Traceable } from "../../../core/trace/target.ts";
import { asKnown } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { LossChart } from "./chart.tsx";
import { boundOf, curveOf } from "./curves.ts";
import { Accepted, Applications, Disagreements, Powers } from "./runs.tsx";
import { TermLeaf } from "./term-leaf.tsx";
import { Terms } from "./terms.tsx";
import { decibels } from "./words.ts";
import "./loss.css";

export function Loss({ values }: ViewProps) {
  const of = values.of ?? "";
  const what = values.kind && values.id ? { kind: values.kind as Traceable, id: Number(values.id) } : of;
  const answer = useAnswer(
    "light.loss",
    what
      ? {
          what,
          worst: values.worst === "typical" ? "typical" : "limit",
          direction: values.way === "back" ? "b_to_a" : "a_to_b",
          ...(values.as === "link" || values.as === "channel" ? { as: values.as } : {}),
        }
      : null,
  );
  if (!what)
    return (
      <Page answer={say`Fill the blank with a port, strand or circuit.`}>
        <div className="teach">
          <GhostLine />
          <p>
            {say`Each part of the loss is told with its source, measured, typical or a limit; then which applications the line can carry, and what it may lose when it is accepted. What is unknown is listed, never zero.`}
          </p>
        </div>
      </Page>
    );
  return answer.value ? (
    <Page {...told(answer.value, values)} />
  ) : (
    <Page>
      <Answered answer={answer} asked={of} word={say`Reckoning`}>
        {() => null}
      </Answered>
    </Page>
  );
}

function told(answer: LossAnswer, values: Readonly<Record<string, string>>): PageProps {
  const chosen = Math.max(0, Math.min(answer.lines.length - 1, Number(values.line ?? 1) - 1));
  const line = answer.lines[chosen];
  const words = <Tagged text={answer.sentence} records={answer.lines.flatMap(recordsOf)} />;
  if (!line) return { answer: words };
  const loss = line.losses.find(({ wavelength_nm }) => String(wavelength_nm) === values.nm) ?? line.losses[0];
  const at = Math.max(0, Math.min((loss?.terms.length ?? 1) - 1, Number(values.at ?? 0)));
  // The one whose rows are shown is drawn whole, and first.
  const curves = loss ? [loss, ...line.losses.filter((one) => one !== loss)].map(curveOf) : [];
  const backwards = values.way === "back";
  return {
    answer: words,
    acts: (
      <>
        <Button onClick={() => goWith({ way: backwards ? null : "back", at: null })}>{say`Light the other way`}</Button>
        <a className="button" href={addressOf("find", { of: values.of ?? line.asked })}>
          {say`Where it goes`}
        </a>
      </>
    ),
    leaf: <TermLeaf answer={answer} line={line} term={loss?.terms[at] ?? null} />,
    children: (
      <>
        <Region name="drawing" label={say`Loss along the line`} className="loss-drawing">
          {answer.lines.length > 1 ? <Lines answer={answer} chosen={chosen} /> : null}
          {loss ? (
            <LossChart curves={curves} bound={boundOf(line)} selected={curves[0]?.stretches[at] ?? null} tall />
          ) : null}
        </Region>
        <Region name="ledger" label={say`Part by part`} className="loss-ledger">
          {loss ? (
            <>
              <Wavelengths line={line} chosen={loss.wavelength_nm} />
              <Terms loss={loss} selected={at} onSelect={(to) => goWith({ at: String(to) }, { replace: true })} />
            </>
          ) : (
            <p className="loss-part soft">{say`No wavelength fits this glass: its class is not on record.`}</p>
          )}
          <Disagreements some={line.disagreements} />
          <Applications all={line.applications} />
          <Powers powers={line.powers} />
          <Accepted some={line.acceptance} />
        </Region>
      </>
    ),
  };
}

const recordsOf = (line: LineLoss) => [
  line.from.record,
  line.to.record,
  ...line.losses.flatMap(({ terms }) => terms.map(({ record }) => record)),
];

function Lines({ answer, chosen }: { readonly answer: LossAnswer; readonly chosen: number }) {
  return (
    <fieldset className="line-choice">
      <legend className="hush">{say`Which line is shown`}</legend>
      {answer.lines.map((line, index) => (
        <button
          key={`${line.asked} ${line.from.record?.tag} ${line.to.record?.tag} ${line.losses[0]?.terms[0]?.record.tag}`}
          type="button"
          aria-pressed={index === chosen}
          onClick={() => goWith({ line: String(index + 1), at: null }, { replace: true })}
        >
          <span className="tag">
            {line.losses[0]?.terms.find(({ kind }) => kind === "glass" || kind === "measured")?.record.tag ??
              line.asked}
          </span>
          <span className="small faint">{say`to ${line.to.record?.tag ?? line.to.words}`}</span>
        </button>
      ))}
    </fieldset>
  );
}

function Wavelengths({ line, chosen }: { readonly line: LineLoss; readonly chosen: number }) {
  return (
    <fieldset className="line-choice">
      <legend className="hush">{say`At which wavelength the parts are told`}</legend>
      {line.losses.map(({ wavelength_nm, loss_db, complete }) => (
        <button
          key={wavelength_nm}
          type="button"
          aria-pressed={wavelength_nm === chosen}
          onClick={() => goWith({ nm: String(wavelength_nm) }, { replace: true })}
        >
          <span>
            {wavelength_nm} nm <b>{loss_db === null ? say`not known` : asKnown(decibels(loss_db), complete)}</b>
          </span>
        </button>
      ))}
    </fieldset>
  );
}
