/** "Does the record of the whole plant agree?": the consistency report, to be worked through. */
import { useEffect, useState } from "react";
import { SEVERITIES, type Severity } from "../../../core/check/finding.ts";
import { shownDay } from "../../../core/model/wording.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { PrintButton } from "../../controls/print-button.tsx";
import { FindingMark, SEVERITY_WORDS } from "../../drawing/findings.tsx";
import { sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import type { ViewProps } from "../view.ts";
import { FindingItem } from "./finding-item.tsx";
import { keepReport } from "./findings-store.ts";
import { keepAsFile } from "./keep.ts";
import { RuleList } from "./rule-list.tsx";
import { groupsOf, noteRules, type Only, type Report, type RuleGroup, readOnly as readOnlyOf } from "./rules.ts";
import { SignOff } from "./sign-off.tsx";
import "./check.css";

export function Check({ values }: ViewProps) {
  const { of } = values;
  const answer = useAnswer("check.run", of ? { building: of } : {});
  const report = answer.value;
  const client = useClient();
  useEffect(() => {
    if (!report) return;
    noteRules(report.rules);
    // Tables and the foot tell of the whole plant.
    if (!of) keepReport(report, client.revision);
  }, [report, of, client]);
  if (!report)
    return (
      <Page
        answer={
          answer.error
            ? undefined
            : say`What is found is shown when all is read, so that nothing moves under your hand.`
        }
      >
        <Answered answer={answer} word={say`Checking`}>
          {() => null}
        </Answered>
      </Page>
    );
  return <Shown report={report} values={values} />;
}

function Shown({ report, values }: { readonly report: Report; readonly values: Readonly<Record<string, string>> }) {
  const by = values.by ?? "";
  const only = readOnlyOf(values.only);
  const newFirst = values.order === "new";
  const status = useStatus();
  const readOnly = status?.read_only ?? null;
  const [signing, setSigning] = useState(false);
  const groups = groupsOf(report, by, only, newFirst);
  return (
    <Page
      acts={
        <>
          <Export values={values} />
          <Button onClick={() => setSigning(true)} disabled={readOnly !== null}>
            {say`Sign off`}
          </Button>
        </>
      }
      answer={<Counts report={report} values={values} only={only} />}
    >
      <div className="check">
        <RuleList report={report} by={by} values={values} />
        <Region name="ledger" label={say`Findings`} className="findings">
          {groups.length === 0 ? <Nothing report={report} by={by} only={only} values={values} /> : null}
          {groups.map((group) => (
            <Group
              key={`${group.rule.name} ${only} ${newFirst}`}
              group={group}
              alone={by === group.rule.name}
              readOnly={readOnly}
              values={values}
            />
          ))}
        </Region>
      </div>
      {signing ? <SignOff report={report} onClose={() => setSigning(false)} /> : null}
    </Page>
  );
}

function Counts({
  report,
  values,
  only,
}: {
  readonly report: Report;
  readonly values: Readonly<Record<string, string>>;
  readonly only: Only;
}) {
  const { counts, accepted, new_since: since, content_hash, rules_version } = report;
  const link = (what: string, shape: Severity | "accepted", words: string) => (
    <a
      key={what}
      className="count"
      href={addressOf("check", { ...values, only: only === what ? "" : what })}
      {...(only === what ? { "aria-current": "true" } : {})}
    >
      <FindingMark shape={shape} /> {words}
    </a>
  );
  return (
    <div className="check-counts">
      <b className="check-verdict">
        {report.findings.length === 0
          ? say`It agrees: nothing was found.`
          : report.passes
            ? say`It agrees: no hazard and no error is open.`
            : counted(report.findings.length - accepted, "finding is open", "findings are open")}
      </b>
      {SEVERITIES.filter((severity) => counts[severity] > 0).map((severity) => {
        const { one, many } = SEVERITY_WORDS[severity];
        return link(severity, severity, counted(counts[severity], one, many));
      })}
      {accepted > 0 ? link("accepted", "accepted", say`${count(accepted)} accepted`) : null}
      <span className="check-ground">
        {since ? (
          <>
            <a className="link" href={addressOf("check", { ...values, order: "new" })}>
              {say`${count(since.count)} new since ${shownDay(since.signed_on)}, signed by ${since.signed_by}`}
            </a>
            <a className="link" href={addressOf("compare", { from: "signed" })}>
              {say`what changed since`}
            </a>
          </>
        ) : (
          say`never signed off`
        )}
        <span title={say`Digest of everything on record, which a sign-off keeps: ${content_hash}`}>
          {say`content`}{" "}
          <span className="tag">
            {content_hash.slice(0, 4)} {content_hash.slice(4, 8)}
          </span>
        </span>
        <span title={say`Version of the rules. Policies: ${policyWords(report)}`}>{say`rules ${rules_version}`}</span>
      </span>
    </div>
  );
}

const policyWords = (report: Report): string =>
  Object.entries(report.policies)
    .map(([name, value]) => `${name} ${value ?? say`not set`}`)
    .join(", ");

function Nothing({
  report,
  by,
  only,
  values,
}: {
  readonly report: Report;
  readonly by: string;
  readonly only: Only;
  readonly values: Readonly<Record<string, string>>;
}) {
  const rule = report.rules.find((one) => one.name === by);
  return (
    <div className="check-nothing">
      {rule ? (
        <>
          <h2>
            <FindingMark shape={rule.severity} /> {rule.title}
          </h2>
          <p>
            {rule.why} <span className="faint">{rule.source}</span>
          </p>
          <p>
            <b>{rule.could_not_run ? say`It could not run: ${rule.could_not_run}` : say`It found nothing here.`}</b>
          </p>
        </>
      ) : (
        <p>
          <b>
            {only === "accepted"
              ? say`Nothing here is accepted.`
              : only
                ? say`No ${SEVERITY_WORDS[only].one} is here.`
                : say`Nothing was found.`}
          </b>
        </p>
      )}
      <a className="button" href={addressOf("check", { of: values.of })}>
        {say`Show all findings`}
      </a>
    </div>
  );
}

/** So many findings of a rule are drawn at first; more on asking, so that ten thousand don't stop the window. */
const FIRST = 8;
const FIRST_ALONE = 60;
const STEP = 200;

function Group(props: {
  readonly group: RuleGroup;
  readonly alone: boolean;
  readonly readOnly: string | null;
  readonly values: Readonly<Record<string, string>>;
}) {
  const { group, alone, readOnly, values } = props;
  const { rule, findings } = group;
  const [shown, setShown] = useState(alone ? FIRST_ALONE : FIRST);
  const rest = findings.length - shown;
  const id = `rule-${rule.name}`;
  return (
    <section className="finding-group" aria-labelledby={id}>
      <h2 id={id}>
        <FindingMark shape={rule.severity} />
        <a href={addressOf("check", { ...values, by: rule.name })}>{rule.title}</a>
        <span className="finding-number">{count(findings.length)}</span>
      </h2>
      <p className="finding-why">
        {rule.why} <span className="faint">{rule.source}</span>
      </p>
      <ul>
        {findings.slice(0, shown).map((finding) => (
          <FindingItem key={finding.key} finding={finding} readOnly={readOnly} />
        ))}
      </ul>
      {rest > 0 ? (
        <div className="finding-more">
          <Button onClick={() => setShown((before) => before + STEP)}>
            {rest > STEP ? say`Show ${STEP} more of ${count(rest)}` : say`Show the other ${count(rest)}`}
          </Button>
          <p className="finding-unprinted">{say`and ${count(rest)} more, not printed here`}</p>
        </div>
      ) : null}
    </section>
  );
}

function Export({ values }: { readonly values: Readonly<Record<string, string>> }) {
  const client = useClient();
  const [busy, setBusy] = useState<"csv" | "html" | null>(null);
  const keep = async (format: "csv" | "html") => {
    setBusy(format);
    const reply = await client.call("check.report", { format, ...(values.of ? { building: values.of } : {}) });
    setBusy(null);
    if (!reply.ok) sayRefused(reply.error);
    else keepAsFile(reply.value.file, reply.value.media_type, reply.value.text);
  };
  return (
    <>
      <Button busy={busy === "csv" ? say`Writing` : null} onClick={() => void keep("csv")}>
        {say`Keep as CSV`}
      </Button>
      <Button busy={busy === "html" ? say`Writing` : null} onClick={() => void keep("html")}>
        {say`Keep as HTML`}
      </Button>
      <PrintButton name="paper.report" input={values.of ? { building: values.of } : {}}>
        {say`Print the report`}
      </PrintButton>
    </>
  );
}
