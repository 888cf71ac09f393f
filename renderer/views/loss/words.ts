/** Words of a loss. */
import type { ApplicationVerdict, Verdict } from "../../../core/light/answer.ts";
import type { Basis, LossTerm } from "../../../core/light/terms.ts";
import { say } from "../../../core/words/say.ts";
import { decimal } from "../../controls/figures.ts";

export const decibels = (db: number, digits = 2): string => `${decimal(db, digits)}\u202fdB`;

export const BASIS_WORDS: Readonly<Record<Basis, string>> = {
  measured: say`measured`,
  typical: say`typical`,
  limit: say`limit`,
  unknown: say`not known`,
};

export const KIND_WORDS: Readonly<Record<LossTerm["kind"], string>> = {
  glass: say`glass of a cable`,
  cord: say`glass of a cord`,
  splice: say`splice`,
  pair: say`two plugs in one adapter`,
  end_pair: say`plug of the link and the test cord`,
  pigtail_splice: say`splice of a pigtail`,
  connector_splice: say`splice inside a connector`,
  furcation: say`furcation`,
  module: say`inside a module`,
  core_mismatch: say`from a wider core into a narrower`,
  mode_field: say`unlike mode fields`,
  measured: say`a stretch measured as one`,
};

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  yes: say`runs`,
  no: say`does not run`,
  cannot_tell: say`can't tell`,
};

/** Runs by what is measured or typical, and not by limits: it may. */
export const verdictWords = ({ runs, runs_at_worst }: Pick<ApplicationVerdict, "runs" | "runs_at_worst">): string =>
  runs === "yes" && runs_at_worst === "no" ? say`runs, but not at worst` : VERDICT_WORDS[runs];
