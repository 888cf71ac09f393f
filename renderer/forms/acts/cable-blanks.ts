/** What is asked of a stop and of the way after it, and the cautions of work on cables. */

import { say } from "../../../core/words/say.ts";
import type { Blank } from "../act.ts";
import { field, record } from "../blanks.ts";

export const HOLE = [
  say`Gas, water and missing air: a hole is entered by trained people after the air is tested, by the local rules for confined spaces. No flame or fusion arc in a hole.`,
  say`Identify the cable twice, by two independent signs, before it is opened or cut.`,
];
export const METAL = say`Metal in a cable between buildings carries lightning and fault current: how and where it is bonded, the local code and a licensed person decide.`;

const mark = (label: string, help: string): Blank => ({ as: "text", label, help, example: "2084 ft" });

export const stopBlanks = {
  reachable: field("stop", "reachable"),
  mark_in: mark(say`mark in`, say`Sheath mark at the mouth where it comes in.`),
  mark_open_from: mark(say`opening from`, say`Sheath mark at the near edge of the opening or cut.`),
  mark_open_to: mark(say`opening to`, say`Sheath mark at the far edge of the opening or cut.`),
  mark_out: mark(say`mark out`, say`Sheath mark at the mouth where it goes out.`),
  marks_basis: field("stop", "marks_basis"),
  slack_m: {
    as: "text",
    label: say`slack`,
    help: say`Slack coiled here, where the marks don't say: metres, or with its unit, such as 30 ft.`,
  },
  storage: field("stop", "storage"),
  coil_diameter_mm: field("stop", "coil_diameter_mm"),
  closure: record("closure", say`closure`, say`The case it enters here.`),
  metal: field("stop", "metal"),
  metal_on: field("stop", "metal_on"),
} as const satisfies Readonly<Record<string, Blank>>;

export const wayBlanks = (before: string) =>
  ({
    [`${before}.pathway`]: record("pathway", say`way on`, say`The pathway it lies in to the next stop.`, {
      example: "DB-04",
    }),
    [`${before}.conduit`]: record("conduit", say`pipe`, say`The pipe it lies in to the next stop.`, {
      example: "DB-04/2",
    }),
    [`${before}.held`]: field("leg", "held"),
  }) as const;

/** Marks that contradict each other are taken all the same. */
export const marksDisagree: Blank = {
  as: "flag",
  label: say`record it although its marks run backwards`,
  help: say`It becomes a finding until they are put right.`,
};

export const cable = record("cable", say`cable`, say`The cable.`, { required: true, example: "F-012" });
/** A stop of that cable. */
export const stop = (label: string, required: boolean): Blank => ({
  as: "text",
  label,
  help: say`The stop: its order along the cable, its address, or the space it is in.`,
  example: "MH-03",
  required,
});
