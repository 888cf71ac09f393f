/** Findings accepted with a reason, and reports signed. */
import { z } from "zod";
import { type Accepted, Exceptions, groundOf } from "../../check/exceptions.ts";
import type { Finding } from "../../check/finding.ts";
import { RULES } from "../../check/rules.ts";
import { signedFindings } from "../../check/signed.ts";
import { shownDay } from "../../model/wording.ts";
import { refuse } from "../../result.ts";
import { lastContent } from "../../store/change-set.ts";
import type { Reader } from "../../store/handle.ts";
import { distance } from "../../store/nearest.ts";
import type { Change, Plan } from "../../store/plan.ts";
import { plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";
import { day } from "../inputs.ts";
import { reportNow } from "./checks.ts";

const rule = z.string().trim().min(1).max(80).describe(say`The rule's name.`);
const key = z.string().min(1).max(400).describe(say`Which finding of that rule, by its key.`);

function refuseUnknownRule(name: string): void {
  if (RULES.some((one) => one.name === name)) return;
  const close = RULES.filter((one) => one.name.includes(name) || distance(one.name, name, 3) <= 3);
  const hint =
    close.length > 0
      ? plural(close.length, "; nearest is {1}", "; nearest are {1}", close.map((one) => one.name).join(", "))
      : "";
  refuse("not_found", say`No rule is named ${name}${hint}.`, [
    { field: "rule", record: name, reason: say`is not a rule${hint}` },
  ]);
}

/** Exceptions stored under that rule and name, whatever they are about by now. */
const storedAs = (reader: Reader, rule: string, name: string): Promise<readonly Accepted[]> =>
  reader.rows<Accepted>("select * from exception where rule = ? and finding = ?", [rule, name]);

/** A name of its own for an exception whose records have left theirs to others. */
async function formerName(reader: Reader, { rule, finding, accepted_on }: Accepted): Promise<string> {
  const base = say`${finding.slice(0, 340)} (accepted ${accepted_on}, named otherwise since`;
  for (let n = 1; ; n++) {
    const name = n === 1 ? `${base})` : `${base}, ${n})`;
    if ((await storedAs(reader, rule, name)).length === 0) return name;
  }
}

export const exceptionAccept = defineWrite({
  name: "exception.accept",
  help: say`Accepts a finding with a reason. It stays listed, and comes back by itself when its facts change.`,
  input: z.strictObject({
    rule,
    key,
    reason: z.string().trim().min(1, say`a reason is needed`).max(1000).describe(say`Why it is accepted.`),
    review_on: day.nullable().optional().describe(say`The day to look again.`),
    facts_digest: z
      .string()
      .max(128)
      .optional()
      .describe(say`The digest of the facts that were seen; other facts refuse it.`),
  }),
  plan: async (context, input): Promise<Plan<{ readonly id: number; readonly rule: string; readonly key: string }>> => {
    const { reader, today, occasion } = context;
    refuseUnknownRule(input.rule);
    const finding = (await reportNow(context)).findings.find((one) => one.rule === input.rule && one.key === input.key);
    if (!finding) {
      refuse("not_found", say`${input.rule} finds nothing named ${input.key}.`, [
        { field: "key", record: input.key, reason: say`is not found now` },
      ]);
    }
    if (input.facts_digest !== undefined && input.facts_digest !== finding.facts_digest) {
      const seen = say`changed since it was seen; look at it again`;
      refuse(
        "stale",
        say`The finding ${input.key} has ${seen}.`,
        [{ record: input.key, reason: say`has ${seen}` }],
        finding,
      );
    }
    if (input.review_on && input.review_on <= today) {
      refuse("bad_input", say`The day to look again must be after today.`, [
        { field: "review_on", reason: say`is ${input.review_on}: must be after ${today}` },
      ]);
    }
    const values = {
      facts_digest: finding.facts_digest,
      facts: await groundOf(reader, finding),
      reason: input.reason,
      accepted_by: occasion.author,
      accepted_on: today,
      review_on: input.review_on ?? null,
    };
    const before = (await Exceptions.read(reader, today, [finding])).rowOf(finding);
    const id = before?.id ?? (await context.newIds("exception", 1));
    const named = { finding: finding.key, ...values };
    const changes: Change[] = [
      before
        ? { op: "update", kind: "exception", id, values: named }
        : { op: "insert", kind: "exception", id, values: { rule: finding.rule, ...named } },
    ];
    // Another record bore that name when its own finding was accepted.
    for (const other of await storedAs(reader, finding.rule, finding.key)) {
      if (other.id === id) continue;
      changes.unshift({
        op: "update",
        kind: "exception",
        id: other.id,
        values: { finding: await formerName(reader, other) },
      });
    }
    return {
      summary: say`Accept ${titled(finding)}`,
      changes,
      answer: { id, rule: finding.rule, key: finding.key },
      notices:
        finding.severity === "hazard"
          ? [say`A hazard that is accepted is still there. The local code and a licensed person decide.`]
          : [],
    };
  },
});

const titled = ({ rule, key }: Pick<Finding, "rule" | "key">): string => `${rule}: ${key.slice(0, 120)}`;

export const exceptionWithdraw = defineWrite({
  name: "exception.withdraw",
  help: say`Takes an acceptance back: the finding counts again.`,
  input: z.strictObject({ rule, key }),
  plan: async (context, input): Promise<Plan<{ readonly rule: string; readonly key: string }>> => {
    const { reader, today } = context;
    const now = (await reportNow(context)).findings.find((one) => one.rule === input.rule && one.key === input.key);
    // What is found no more is known by the name it was accepted under.
    const [stored] = await storedAs(reader, input.rule, input.key);
    const before = now ? (await Exceptions.read(reader, today, [now])).rowOf(now) : stored;
    if (!before) {
      refuse("not_found", say`${input.key} was not accepted under ${input.rule}.`, [
        { field: "key", record: input.key, reason: say`is not an accepted finding of that rule` },
      ]);
    }
    return {
      summary: say`No longer accept ${titled(input)}`,
      changes: [{ op: "delete", kind: "exception", id: before.id, rev: before.rev }],
      answer: input,
    };
  },
});

export interface SignedOff {
  readonly id: number;
  readonly signed_by: string;
  readonly signed_on: string;
  readonly content_hash: string;
  readonly rules_version: string;
  readonly findings: number;
  /** Whether the report passed when it was signed. */
  readonly passes: boolean;
}

export const signOffMake = defineWrite({
  name: "sign_off.make",
  help: say`Signs the report as it stands: the next one opens with what is new since.`,
  input: z.strictObject({
    by: z.string().trim().min(1, say`a name is needed`).max(80).describe(say`The auditor's name.`),
    notes: z.string().max(4000).nullable().optional().describe(say`Anything the auditor adds.`),
  }),
  plan: async (context, { by, notes }): Promise<Plan<SignedOff>> => {
    const report = await reportNow(context);
    const id = await context.newIds("sign_off", 1);
    const signed = {
      signed_by: by,
      signed_on: context.today,
      content_hash: report.content_hash,
      rules_version: report.rules_version,
    };
    const content = await lastContent(context.reader);
    const findings = JSON.stringify(signedFindings(report.findings));
    return {
      summary: say`Sign the consistency report of ${shownDay(context.today)}, by ${by}`,
      changes: [
        {
          op: "insert",
          kind: "sign_off",
          id,
          values: { ...signed, change_set: content?.id ?? 0, findings, notes: notes ?? null },
        },
      ],
      answer: { id, ...signed, findings: report.findings.length, passes: report.passes },
      notices: report.passes ? [] : [say`A hazard or an error is still open.`],
    };
  },
});
