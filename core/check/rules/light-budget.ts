/** Rules of how much light arrives: too little for what the circuit carries, or too much for the receiver. */
import type { LineLoss, Overload, Power } from "../../light/answer.ts";
import { lossTooMuch } from "../../light/applications.ts";
import { spokenDecibel } from "../../light/spoken.ts";
import { say } from "../../words/say.ts";
import { doubtfulLosses } from "../light-lines.ts";
import { CAUTION, type Case, defineRule, type Fact, type Ground, listed, quote } from "../rule.ts";

const TYPICAL = say`with typical values where nothing was measured`;
const LIMITS = say`with limits where nothing was measured`;

/** The same in numbers. */
const measures = ({ applications, powers }: LineLoss, application: string | null): Fact[] => [
  ...applications
    .filter((one) => one.application === application && one.runs === "no")
    .map(({ fibre_class, loss_db, limit_db, length_m, limit_m }) => [
      fibre_class,
      loss_db,
      limit_db,
      length_m,
      limit_m,
    ]),
  ...powers.flatMap(({ margin_db, budget_db, wavelength_nm }) =>
    margin_db !== null && margin_db < 0 ? [[wavelength_nm, margin_db, budget_db]] : [],
  ),
];

/** Why a line doesn't carry what it should, in words that say by which values; none where nothing says so. */
function shortfalls({ applications, powers }: LineLoss, application: string | null): string[] {
  const own = applications.filter((one) => one.application === application && one.runs === "no");
  return [
    ...own.flatMap(({ application: name, usual_reasons, loss_db, limit_db }) =>
      usual_reasons.map((reason) =>
        reason === lossTooMuch(loss_db, limit_db) ? say`for ${name} ${reason}, ${TYPICAL}` : say`for ${name} ${reason}`,
      ),
    ),
    ...powers.flatMap(({ margin_db, budget_db, wavelength_nm }) =>
      margin_db !== null && margin_db < 0
        ? [
            say`at ${wavelength_nm} nm the receiver lacks ${spokenDecibel(-margin_db, 0)} dB of a budget of ${spokenDecibel(budget_db as number)} dB, ${LIMITS}`,
          ]
        : [],
    ),
  ];
}

export const overBudget = defineRule({
  name: "light.over_budget",
  family: "light",
  severity: "warning",
  title: say`Circuit whose light may not suffice`,
  why: say`By what is on record the line loses more, is longer or is of other glass than what it carries bears: it runs at its edge, or the record is wrong.`,
  source: say`The limits in use of applications and joints, with their sources; where nothing was measured, typical values for what an application bears and limits for what a receiver's budget does`,
  async find(ground) {
    return (await doubtfulLosses(ground)).flatMap(({ circuit, application, lines }): Case[] => {
      const short = lines.map((line) => shortfalls(line, application)).filter((words) => words.length > 0);
      if (short.length === 0) return [];
      const numbers = lines.map((line) => JSON.stringify(measures(line, application)));
      return [
        {
          records: [["circuit", circuit]],
          count: short.length,
          facts: { reasons: [...new Set(short.flat())], strands: short.length, of: lines.length },
          held: [[...new Set(numbers)], short.length, lines.length],
        },
      ];
    });
  },
  say: ({ records: [circuit], facts }, tag) => ({
    sentence: say`${quote(tag, circuit)} may not run: ${listed(facts.reasons as string[])}.`,
    repair: say`Ask for its loss term by term, measure the line, and clean or mend what loses most; else correct the record.`,
    caution: CAUTION.glass,
  }),
});

async function tooStrong(ground: Ground, severity: Overload["severity"]): Promise<Case[]> {
  return (await doubtfulLosses(ground)).flatMap(({ circuit, lines }) => {
    const powers = new Map<string, Power>();
    for (const power of lines.flatMap((line) => line.powers)) {
      if (power.overload.severity === severity) powers.set(`${power.transmitter.id} ${power.receiver.id}`, power);
    }
    return [...powers.values()].map(({ transmitter, receiver, overload }): Case => {
      const { arrives_dbm, over_db, attenuator_db } = overload;
      return {
        records: [
          ["circuit", circuit],
          ["interface", receiver.id],
          ["interface", transmitter.id],
        ],
        key: [
          ["circuit", circuit],
          ["interface", receiver.id],
        ],
        inOrder: true,
        facts: { arrives_dbm, over_db, attenuator_db },
      };
    });
  });
}

const saidOfStrong = (how: string): Parameters<typeof defineRule>[0]["say"] => {
  return ({ records: [circuit, receiver, transmitter], facts }, tag) => ({
    sentence: say`${quote(tag, circuit)} brings up to ${spokenDecibel(facts.arrives_dbm as number)} dBm from ${quote(tag, transmitter)} to ${quote(tag, receiver)} (${how}), ${spokenDecibel(facts.over_db as number, 0)} dB more than that bears.`,
    repair:
      facts.attenuator_db === null
        ? say`No attenuator fits that leaves enough light at the least launch: choose another optic.`
        : say`Put an attenuator of ${String(facts.attenuator_db)} dB in front of the receiver.`,
    caution: CAUTION.glass,
  });
};

const STRONG = {
  family: "light",
  why: say`More light than the receiver bears blinds it, or spoils it for good.`,
  source: say`The optics' powers on record, and the least loss the line can have`,
} as const;

export const tooStrongMeasured = defineRule({
  ...STRONG,
  name: "light.too_strong_measured",
  severity: "error",
  title: say`Too much light for the receiver, measured`,
  find: (ground) => tooStrong(ground, "error"),
  say: saidOfStrong(say`the loss was measured`),
});

export const tooStrongReckoned = defineRule({
  ...STRONG,
  name: "light.too_strong",
  severity: "warning",
  title: say`Too much light for the receiver, as worked out`,
  find: (ground) => tooStrong(ground, "warning"),
  say: saidOfStrong(say`the least loss was worked out`),
});
