/** What is amiss or doubtful, beside the field it is about. A problem holds the entry up, a doubt doesn't. */
import { createContext, useContext } from "react";
import { say } from "../../../core/words/say.ts";
import { Said } from "../../controls/said.tsx";
import { FateMark, FindingMark } from "../../drawing/findings.tsx";
import type { RunPlan } from "./typed.ts";

interface Told {
  readonly problems: RunPlan["problems"];
  readonly doubts: RunPlan["doubts"];
}

const ToldContext = createContext<Told>({ problems: [], doubts: [] });
export const ToldProvider = ToldContext.Provider;

/** An id for what stands beside the fields of a row or by itself. */
export const toldId = (at: string): string => `told-${at.replaceAll(".", "-")}`;

const isUnder = (at: string | null, row: string): boolean => at !== null && (at === row || at.startsWith(`${row}.`));

/** What a field says of itself to who can't see it. */
export function useTold(at: string, row = at): object {
  const { problems, doubts } = useContext(ToldContext);
  const wrong = problems.some((one) => one.at === at);
  const told = wrong || doubts.some((one) => one.at === at);
  return { ...(wrong ? { "aria-invalid": true } : {}), ...(told ? { "aria-describedby": toldId(row) } : {}) };
}

export function useAnyTold(row: string): boolean {
  const { problems, doubts } = useContext(ToldContext);
  return problems.some(({ at }) => isUnder(at, row)) || doubts.some(({ at }) => isUnder(at, row));
}

interface BesideProps {
  readonly row: string;
  /** Names of the row's fields, as their labels say them. */
  readonly labels?: Readonly<Record<string, string>>;
}

export function Beside({ row, labels = {} }: BesideProps) {
  const { problems, doubts } = useContext(ToldContext);
  const labelOf = (at: string | null): string => labels[at === null ? "" : at.slice(row.length + 1)] ?? "";
  return (
    <ul className="run-told" id={toldId(row)}>
      {problems
        .filter(({ at }) => isUnder(at, row))
        .map(({ at, record, reason }) => (
          <li key={`${at} ${record} ${reason}`}>
            <FateMark fate="refused" />
            <span>
              {labelOf(at) ? <b>{labelOf(at)} </b> : null}
              {record ? <span className="tag">{record} </span> : null}
              {reason}
            </span>
          </li>
        ))}
      {doubts
        .filter(({ at }) => isUnder(at, row))
        .map(({ at, sentence, source }) => (
          <li key={`${at} ${sentence}`}>
            <FindingMark shape="warning" />
            <span title={source ?? undefined}>
              <b>{say`doubtful${labelOf(at) ? `, ${labelOf(at)}` : ""}: `}</b>
              <Said text={sentence} records={[]} />
            </span>
          </li>
        ))}
    </ul>
  );
}
