/** What a change did, record by record: each field before and after. */
import { KINDS } from "../../../core/model/dictionary.ts";
import type { ChangeView } from "../../../core/store/written.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { TagLink, TagText } from "../../controls/tag-link.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { FateMark } from "../../drawing/findings.tsx";
import { wordsIn } from "../../grid/showing.ts";

const FATES = { insert: "new", update: "changed", delete: "refused" } as const;
const WORDS = { insert: say`added`, update: say`changed`, delete: say`deleted` } as const;

/** Beyond this many a field's list is cut in one line. */
const SHOWN_FIELDS = 6;

export function FieldChange({ before, after }: { readonly before: string | null; readonly after: string | null }) {
  return (
    <>
      {before === null ? <span className="soft">{say`empty`}</span> : <s>{unbroken(before)}</s>}{" "}
      <span aria-hidden="true">→</span>
      <span className="hush">{say` became `}</span>{" "}
      {after === null ? <span className="soft">{say`empty`}</span> : <b>{unbroken(after)}</b>}
    </>
  );
}

/** What a step hands to its act is for the program: people read its words. */
export function ChangeLine({ change, linked = true }: { readonly change: ChangeView; readonly linked?: boolean }) {
  const { op, kind, id, record, fields } = change;
  const { unit } = useSettings();
  const words = (field: string, value: string | null) => wordsIn(kind, field, value, unit);
  const told = fields.filter(({ field }) => !(kind === "job_step" && field === "input"));
  const shown = told.slice(0, SHOWN_FIELDS);
  const gone = op === "delete";
  return (
    <li className="change">
      <span className="change-op">
        <FateMark fate={FATES[op]} />
        {WORDS[op]}
      </span>
      {/* A description, such as a splice's, says itself what it is. */}
      <span className="change-kind">{record.startsWith(`${KINDS[kind].one} `) ? "" : KINDS[kind].one}</span>
      <span className="change-record">
        {linked && !gone ? <TagLink record={{ kind, id, tag: record }} /> : <TagText of={record} gone={gone} />}
      </span>
      <span className="change-fields">
        {gone
          ? null
          : shown.map((field) => (
              <span key={field.field} className="change-field">
                <span className="faint">{field.label}</span>{" "}
                {op === "insert" ? (
                  <b>{unbroken(words(field.field, field.after) ?? "")}</b>
                ) : (
                  <FieldChange before={words(field.field, field.before)} after={words(field.field, field.after)} />
                )}
              </span>
            ))}
        {!gone && told.length > shown.length ? (
          <span className="soft">{counted(told.length - shown.length, "more field")}</span>
        ) : null}
      </span>
    </li>
  );
}

export function ChangeLines({
  changes,
  linked,
}: {
  readonly changes: readonly ChangeView[];
  readonly linked?: boolean;
}) {
  return (
    <ul className="changes">
      {changes.map((change) => (
        <ChangeLine
          key={`${change.kind} ${change.id} ${change.op}`}
          change={change}
          {...(linked === false ? { linked } : {})}
        />
      ))}
    </ul>
  );
}
