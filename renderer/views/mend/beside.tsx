/** The ways side by side: what each takes and what it leaves, a column each. */
import type { ReactNode } from "react";
import type { MendWhole, MendWholePlan } from "../../../core/repair/answer.ts";
import { say } from "../../../core/words/say.ts";
import { count, decimal, useLength } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { jobAddress } from "./job-address.ts";

/** More than these can't be read beside one another. */
export const MOST_BESIDE = 4;

interface Beside extends MendWholePlan {
  readonly head: string;
}

export function PlansBeside({ answer, dark }: { readonly answer: MendWhole; readonly dark: string | undefined }) {
  const length = useLength();
  const { temporary } = answer;
  const shown: Beside[] = answer.plans
    .slice(0, MOST_BESIDE)
    .map((plan, index) => ({ ...plan, head: say`way ${index + 1}` }));
  const last = answer.plans.length;
  const whole = answer.plans.at(-1);
  if (whole && last > MOST_BESIDE) shown.push({ ...whole, head: say`way ${last}` });
  if (temporary.plan) shown.push({ ...temporary.plan, head: say`for the time being` });
  const metres = (of: number): string => (of === 0 ? say`none` : length(of));
  const list = (all: readonly string[], none: string): ReactNode =>
    all.length === 0 ? none : unbroken(all.join("; "));
  const rows: readonly (readonly [string, (plan: Beside) => ReactNode])[] = [
    [say`what is done`, ({ sentence }) => unbroken(sentence)],
    [say`pulled from coils`, ({ pulled_m }) => metres(pulled_m)],
    [say`kept as a coil at the splice`, ({ sides }) => metres(sides.reduce((sum, { kept_m }) => sum + kept_m, 0))],
    [say`cut off`, ({ sides }) => metres(sides.reduce((sum, { trimmed_m }) => sum + trimmed_m, 0))],
    [say`new cable`, ({ new_cable_m }) => metres(new_cable_m)],
    [say`new holes`, ({ new_holes }) => (new_holes === 0 ? say`none` : count(new_holes))],
    [say`cases`, ({ points }) => (points.length === 0 ? say`none` : count(points.length))],
    [say`splices`, ({ splicing }) => count(splicing.reduce((sum, { splices }) => sum + splices, 0))],
    [say`hours of work, estimated`, ({ hours }) => (hours.hours === null ? say`not known` : decimal(hours.hours))],
    [
      say`from stock`,
      ({ stock }) => (stock.words.length === 0 ? say`nothing is needed` : unbroken(stock.words.join(" "))),
    ],
    [
      say`would not run afterwards`,
      ({ fails, failed_before, in_doubt }) => (
        <>
          {fails.length === 0 ? say`no circuit` : null}
          {fails.map((circuit, index) => (
            <span key={circuit.id}>
              {index > 0 ? ", " : ""}
              <TagLink record={circuit} />
              {failed_before.some(({ id }) => id === circuit.id) ? say` (nor before the cut)` : ""}
            </span>
          ))}
          {in_doubt.length > 0 ? say` (can't be told of ${count(in_doubt.length)})` : ""}
        </>
      ),
    ],
    ...(answer.shining || answer.plans.some(({ takes_down }) => takes_down.length > 0)
      ? [
          [
            say`takes down what still shines`,
            ({ takes_down, severs }: Beside) =>
              severs || takes_down.length > 0
                ? list(
                    takes_down.map(({ circuit }) => circuit.tag),
                    say`strands without a circuit`,
                  )
                : say`nothing`,
          ] as const,
        ]
      : []),
    [say`waits for the way to be clear`, ({ waits_for_pipe }) => (waits_for_pipe ? say`yes` : say`no`)],
    [
      say`room for new cable`,
      ({ laid, crowded, new_cable_m, permanent }) =>
        new_cable_m === 0
          ? say`none is laid`
          : laid.length === 0
            ? permanent
              ? say`not known`
              : say`it lies over the ground`
            : crowded.length > 0
              ? unbroken(
                  say`none in ${laid.flatMap(({ verdict, pipe }) => (verdict === "over" || verdict === "old_out" ? (pipe?.tag ?? []) : [])).join(", ")}`,
                )
              : laid.some(({ verdict }) => verdict === "not_known")
                ? say`not known of every leg`
                : say`on every leg`,
    ],
    [say`to be proved`, ({ to_prove, guesses }) => list([...to_prove, ...guesses], say`nothing`)],
  ];
  return (
    <div className="locate-part">
      <h2 id="mend-beside">{say`The ways side by side`}</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls sideways must be reached by the keyboard. */}
      <section className="mend-beside" tabIndex={0} aria-labelledby="mend-beside">
        <table>
          <thead>
            <tr>
              <td />
              {shown.map(({ head }) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(([head, show]) => (
              <tr key={head}>
                <th scope="row">{head}</th>
                {shown.map((plan) => (
                  <td key={plan.head}>{show(plan)}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <p className="small faint">{unbroken(temporary.words)}</p>
      {temporary.way === null || answer.cut.passes.length > 0 ? null : (
        <p>
          <a className="link" href={jobAddress(answer, temporary.way, dark, true)}>
            {say`Choose it for the time being`}
          </a>
        </p>
      )}
    </div>
  );
}
