/** A finding in one line, where the record stands that it is about. */
import type { Finding } from "../../../core/check/finding.ts";
import { say } from "../../../core/words/say.ts";
import { Said } from "../../controls/said.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { FindingMark, SEVERITY_WORDS } from "../../drawing/findings.tsx";
import { addressOf } from "../../frame/router.ts";

export function FindingLine({ finding, marked = false }: { readonly finding: Finding; readonly marked?: boolean }) {
  return (
    <div className="line" role="note">
      {marked ? <FindingMark shape={finding.severity} /> : null}
      <span className="line-words">
        <span className="hush">{SEVERITY_WORDS[finding.severity].one}: </span>
        <Said text={finding.sentence} records={finding.records} />
        {finding.repair ? (
          <span className="soft">
            {" "}
            {sayWith`To repair: ${<Said text={finding.repair} records={finding.records} />}`}
          </span>
        ) : null}
      </span>
      <a className="line-link" href={addressOf("check", { by: finding.rule })}>
        {say`Open in Check`}
      </a>
    </div>
  );
}
