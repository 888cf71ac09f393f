/** A splice case is wrecked with all glass in it: which sheath reaches into a new one, and what is spliced again. */
import type { ReactNode } from "react";
import type { LostCaseAnswer, LostCaseArm, LostCasePiece } from "../../../core/repair/lost-case-told.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { CircuitsByPriority } from "../../controls/circuits-by-priority.tsx";
import { count, decimal, useLength } from "../../controls/figures.ts";
import { Heads } from "../../controls/heads.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { Losses } from "./losses.tsx";

/** @param lost_m metres destroyed of each sheath; the plant's policy where null */
export function LostCase({ of, lost_m }: { readonly of: string; readonly lost_m: number | null }) {
  const answer = useAnswer("mend.case", { closure: of, ...(lost_m === null ? {} : { lost_m }) });
  return answer.value ? (
    <Page {...told(answer.value)} />
  ) : (
    <Page>
      <Answered answer={answer} word={say`Planning`}>
        {() => null}
      </Answered>
    </Page>
  );
}

function told(answer: LostCaseAnswer): PageProps {
  const { closure, place, arms, lost_m, possible, circuits } = answer;
  return {
    answer: (
      <Tagged
        text={answer.sentence}
        records={[
          closure,
          place,
          ...arms.flatMap(({ cable, pulls, piece }) => [cable, piece?.place ?? null, ...pulls.map((one) => one.place)]),
        ]}
      />
    ),
    ...(possible
      ? {
          acts: (
            <a
              className="button"
              href={addressOf("acts", { do: "job.plan_case", closure: closure.tag, lost_m: String(lost_m) })}
            >
              {say`Make a job of it`}
            </a>
          ),
        }
      : {}),
    leaf: <Cautions cautions={answer.cautions} />,
    children: (
      <Region name="ledger" label={say`The wrecked case`} className="mend-ledger">
        <Facts answer={answer} />
        <Arms arms={arms} />
        <Lines id="stock" head={say`New cable and cases for it`} lines={stockLines(arms)} />
        {answer.losses.length === 0 ? null : (
          <Part id="losses" head={say`What circuits lose afterwards`}>
            <Losses losses={answer.losses} failed_before={answer.failed_before} />
          </Part>
        )}
        {circuits.length === 0 ? null : (
          <Part id="down" head={say`Down, by priority`}>
            <p>
              <CircuitsByPriority of={circuits} most={24} />
            </p>
          </Part>
        )}
        <Lines id="refused" head={say`Why a new case alone doesn't do`} lines={answer.refused} mark="error" />
        <Lines id="prove" head={say`To be proven`} lines={answer.to_prove} mark="gap" />
        <Lines id="assumed" head={say`Taken for granted`} lines={answer.assumed} />
      </Region>
    ),
  };
}

const stockLines = (arms: readonly LostCaseArm[]): string[] =>
  arms.flatMap(({ cable, piece }) => (piece?.stock ?? []).map((words) => say`For ${cable.tag}: ${words}`));

function Facts({ answer }: { readonly answer: LostCaseAnswer }) {
  const length = useLength();
  const { place, lost_m, splices, express, hours } = answer;
  const facts = [
    [say`Hung in`, <TagLink key="place" record={place} />],
    [say`Destroyed of each sheath`, length(lost_m)],
    [say`Splices in it`, count(splices)],
    [say`Run through it`, count(express)],
    [say`Hours`, hours.hours === null ? say`not known` : decimal(hours.hours)],
  ] as const;
  return (
    <dl className="facts mend-where">
      {facts.map(([head, value]) => (
        <div key={head}>
          <dt>{head}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}

const pieceWords = (length: string, { name, how }: LostCasePiece): string =>
  how === "" ? say`${length} from ${name}` : say`${length} from ${name}, ${how}`;

function Arms({ arms }: { readonly arms: readonly LostCaseArm[] }) {
  const length = useLength();
  return (
    <Part id="arms" head={say`What each sheath gives`}>
      <table className="mend-losses">
        <Heads
          of={[
            say`cable`,
            say`comes from`,
            say`left there`,
            say`a splice takes`,
            say`pulled from`,
            say`lacks`,
            say`new cable`,
          ]}
        />
        <tbody>
          {arms.map(({ cable, from, has_m, needs_m, pulls, short_m, piece, left_lying }) => (
            <tr key={`${cable.id} ${from}`}>
              <th scope="row">
                <TagLink record={cable} />
              </th>
              <td>{from}</td>
              <td className="figure">{length(has_m)}</td>
              <td className="figure">{length(needs_m)}</td>
              <td>
                {pulls
                  .map(
                    (one) => say`${length(one.pulled_m)} at ${(one.place ?? one.stop).tag}, ${length(one.left_m)} stay`,
                  )
                  .join("; ")}
              </td>
              <td className="figure">
                {short_m === 0 ? null : (
                  <>
                    {piece || left_lying ? null : <FindingMark shape="error" />} {length(short_m)}
                  </>
                )}
              </td>
              <td>
                {left_lying ? say`left where it lies` : piece ? pieceWords(length(piece.new_cable_m), piece) : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Part>
  );
}

function Part({ id, head, children }: { readonly id: string; readonly head: string; readonly children: ReactNode }) {
  return (
    <section className="locate-part" aria-labelledby={`case-${id}`}>
      <h2 id={`case-${id}`}>{head}</h2>
      {children}
    </section>
  );
}

function Lines({
  id,
  head,
  lines,
  mark,
}: {
  readonly id: string;
  readonly head: string;
  readonly lines: readonly string[];
  readonly mark?: "error" | "gap";
}) {
  if (lines.length === 0) return null;
  return (
    <Part id={id} head={head}>
      <ul>
        {lines.map((words) => (
          <li key={words}>
            {mark ? <FindingMark shape={mark} /> : null} {unbroken(words)}
          </li>
        ))}
      </ul>
    </Part>
  );
}
