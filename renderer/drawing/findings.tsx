/** Findings are square, except what may hurt a person: that is a triangle. */
import type { ReactNode } from "react";
import type { Severity } from "../../core/check/finding.ts";
import { say } from "../../core/words/say.ts";
import { Sign } from "./at.tsx";

export type FindingShape = Severity | "accepted" | "caution";

const SHAPES: Readonly<Record<FindingShape, ReactNode>> = {
  hazard: (
    <>
      <path d="M0-5.4 6 5H-6Z" fill="currentColor" stroke="currentColor" strokeWidth="1" strokeLinejoin="round" />
      <path d="M0-1.9V1.5M0 2.7V4" stroke="var(--paper)" strokeWidth="1.5" />
    </>
  ),
  caution: (
    <>
      <path d="M0-5 5.6 4.7H-5.6Z" fill="none" stroke="currentColor" strokeWidth="1.4" strokeLinejoin="round" />
      <path d="M0-1.9V1.3M0 2.3V3.5" stroke="currentColor" strokeWidth="1.4" />
    </>
  ),
  error: <rect x="-5" y="-5" width="10" height="10" fill="currentColor" />,
  warning: (
    <>
      <rect x="-4.4" y="-4.4" width="8.8" height="8.8" fill="none" stroke="currentColor" strokeWidth="1.4" />
      <path d="M4.4-4.4V4.4H-4.4Z" fill="currentColor" />
    </>
  ),
  gap: <rect x="-4.4" y="-4.4" width="8.8" height="8.8" fill="none" stroke="currentColor" strokeWidth="1.5" />,
  advice: <path d="M0-5.6 5.6 0 0 5.6-5.6 0Z" fill="none" stroke="currentColor" strokeWidth="1.4" />,
  accepted: (
    <>
      <rect
        x="-4.5"
        y="-4.5"
        width="9"
        height="9"
        fill="none"
        stroke="currentColor"
        strokeWidth="1.2"
        strokeDasharray="2 1.6"
      />
      <path d="M-2.4 0-.6 2 2.8-2.2" fill="none" stroke="currentColor" strokeWidth="1.5" />
    </>
  ),
};

export const SEVERITY_WORDS: Readonly<Record<Severity, { readonly one: string; readonly many: string }>> = {
  hazard: { one: say`hazard`, many: say`hazards` },
  error: { one: say`error`, many: say`errors` },
  warning: { one: say`warning`, many: say`warnings` },
  gap: { one: say`gap`, many: say`gaps` },
  advice: { one: say`advice`, many: say`advice` },
};

export const FindingMark = ({ shape }: { readonly shape: FindingShape }) => <Sign>{SHAPES[shape]}</Sign>;

/** The shape as part of a larger drawing. */
export const FindingShapeOnly = ({ shape }: { readonly shape: FindingShape }) => <>{SHAPES[shape]}</>;

/** What would become of a row. */
export type Fate = "new" | "changed" | "same" | "refused";

const FATES: Readonly<Record<Fate, string>> = {
  new: "M0-4.6V4.6M-4.6 0H4.6",
  changed: "M-5 0H4.4M1-3.4 4.6 0 1 3.4",
  same: "M-4.6-2H4.6M-4.6 2H4.6",
  refused: "M-3.8-3.8 3.8 3.8M-3.8 3.8 3.8-3.8",
};

export const FateMark = ({ fate }: { readonly fate: Fate }) => (
  <Sign>
    <path d={FATES[fate]} fill="none" stroke="currentColor" strokeWidth="1.8" />
  </Sign>
);
