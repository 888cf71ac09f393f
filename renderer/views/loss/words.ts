/** Words of a loss. */
import type { ApplicationVerdict, Verdict } from "../../../core/light/answer.ts";
import type { Basis, LossTerm } from "../../../core/light/terms.ts";
import { decimal } from "../../controls/figures.ts";

export const decibels = (db: number, digits = 2): string => `${decimal(db, digits)}\u2009dB`;

export const BASIS_WORDS: Readonly<Record<Basis, string>> = {
  measured: "measured",
  typical: "typical",
  limit: "limit",
  unknown: "not known",
};

export const KIND_WORDS: Readonly<Record<LossTerm["kind"], string>> = {
  glass: "glass of a cable",
  cord: "glass of a cord",
  splice: "splice",
  pair: "two plugs in one adapter",
  end_pair: "plug of the link and the test cord",
  pigtail_splice: "splice of a pigtail",
  connector_splice: "splice inside a connector",
  furcation: "furcation",
  module: "inside a module",
  core_mismatch: "from a wider core into a narrower",
  mode_field: "unlike mode fields",
  measured: "a stretch measured as one",
};

export const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  yes: "runs",
  no: "does not run",
  cannot_tell: "can't tell",
};

/** Runs by what is measured or typical, and not by limits: it may. */
export const verdictWords = ({ runs, runs_at_worst }: Pick<ApplicationVerdict, "runs" | "runs_at_worst">): string =>
  runs === "yes" && runs_at_worst === "no" ? "runs, but not at worst" : VERDICT_WORDS[runs];
