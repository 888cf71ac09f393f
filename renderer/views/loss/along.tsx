/** Beside a trace: its loss along the way and whether what is wanted runs, in short. */
import { useAnswer } from "../../client/use-answer.ts";
import { FindingMark } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";
import { LossChart } from "./chart.tsx";
import { boundOf, curveOf } from "./curves.ts";
import "./loss.css";
import { say } from "../../../core/words/say.ts";
import { decibels, verdictWords } from "./words.ts";

export function LossAlong({ of }: { readonly of: string }) {
  const { value } = useAnswer("light.loss", { what: of });
  const line = value?.lines[0];
  if (!value || !line || line.losses.length === 0) return null;
  const wanted = line.applications.filter((one) => one.wanted);
  return (
    <section className="loss-along" aria-labelledby="loss-along">
      <header>
        <h2 id="loss-along">{say`What light loses along it`}</h2>
        <p className="soft">
          {wanted.length === 0
            ? say`No equipment or circuit on it names an application.`
            : wanted.map((one) => (
                <span key={one.application} className="loss-wanted">
                  {one.runs === "yes" ? null : <FindingMark shape={one.runs === "no" ? "error" : "gap"} />}{" "}
                  {one.application} {verdictWords(one)}
                  {one.margin_db === null ? "" : say`, ${decibels(one.margin_db, 1)} to spare`}
                </span>
              ))}
        </p>
        <a className="button" href={addressOf("loss", { of })}>
          {say`Part by part`}
        </a>
      </header>
      <LossChart curves={line.losses.map(curveOf)} bound={boundOf(line)} selected={null} tall={false} />
    </section>
  );
}
