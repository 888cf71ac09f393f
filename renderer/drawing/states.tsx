/** What a strand is doing: always round, always beside its word. */
import type { ReactNode } from "react";
import type { StrandState } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import { Sign } from "./at.tsx";

const ring = <circle r="4.6" fill="none" stroke="currentColor" strokeWidth="1.6" />;

const SHAPES: Readonly<Record<StrandState, ReactNode>> = {
  in_service: <circle r="5.2" fill="currentColor" />,
  reserved: (
    <>
      {ring}
      <path d="M0-4.6a4.6 4.6 0 0 1 0 9.2Z" fill="currentColor" />
    </>
  ),
  planned: <circle r="4.6" fill="none" stroke="var(--accent)" strokeWidth="1.8" strokeDasharray="2.9 1.92" />,
  leased: (
    <>
      {ring}
      <circle r="2.1" fill="currentColor" />
    </>
  ),
  spare: ring,
  dead: (
    <>
      {ring}
      <path d="M-4.6 0H4.6" stroke="currentColor" strokeWidth="1.6" />
    </>
  ),
  broken: (
    <>
      {ring}
      <path d="M-3.2-3.2 3.2 3.2M-3.2 3.2 3.2-3.2" stroke="currentColor" strokeWidth="1.5" />
    </>
  ),
  assigned_twice: (
    <g fill="none" stroke="currentColor" strokeWidth="1.5">
      <circle cx="-2" r="3.6" />
      <circle cx="2" r="3.6" />
    </g>
  ),
  unknown: <circle r="4.6" fill="none" stroke="currentColor" strokeWidth="1.4" strokeDasharray="1.4 2.2" />,
};

export const STATE_WORDS: Readonly<Record<StrandState, string>> = {
  in_service: say`in service`,
  reserved: say`reserved`,
  planned: say`planned`,
  leased: say`leased`,
  spare: say`spare`,
  dead: say`dead`,
  broken: say`broken`,
  assigned_twice: say`assigned twice`,
  unknown: say`not known`,
};

/** In the order in which they are counted. */
export const STATES = Object.keys(STATE_WORDS) as readonly StrandState[];

export const StateMark = ({ state }: { readonly state: StrandState }) => <Sign>{SHAPES[state]}</Sign>;

/** The mark and its word. */
export const StateWord = ({ state }: { readonly state: StrandState }) => (
  <span className="state-word">
    <StateMark state={state} />
    {STATE_WORDS[state]}
  </span>
);

/** The mark as part of a larger drawing. */
export const StateShape = ({ state }: { readonly state: StrandState }) => <>{SHAPES[state]}</>;
