/** What a record rests on, and what rests on it. */
import { KINDS } from "../../../core/model/dictionary.ts";
import type { RecordPage, RestingGroup } from "../../../core/store/record-page.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { count } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { addressOf } from "../../frame/router.ts";

export function RestsOn({ page }: { readonly page: RecordPage }) {
  if (page.rests_on.length === 0) return <p className="soft">{say`It rests on no other record.`}</p>;
  return (
    <ul className="rests">
      {page.rests_on.map((ref) => (
        <li key={ref.field}>
          <span className="faint">{ref.label}</span>
          <TagLink record={ref} />
        </li>
      ))}
    </ul>
  );
}

/** So many tags are written out; the table shows the rest. */
const SHOWN = 8;

export function Resting({ page }: { readonly page: RecordPage }) {
  if (page.resting.length === 0)
    return <p className="soft">{say`Nothing rests on it: it can be deleted by itself.`}</p>;
  return (
    <ul className="rests">
      {page.resting.map((group) => (
        <Group key={`${group.kind} ${group.field}`} group={group} page={page} />
      ))}
    </ul>
  );
}

function Group({ group, page }: { readonly group: RestingGroup; readonly page: RecordPage }) {
  const { kind, field, label, first } = group;
  const { one, many } = KINDS[kind];
  const inTable = addressOf("enter", { kind, where: `${field}=${page.address}` });
  return (
    <li className="resting-group">
      <a className="resting-count link" href={inTable} title={say`Show them in the table of ${many}`}>
        {counted(group.count, one, many)}
      </a>
      {label === KINDS[page.kind].one || label === "on" ? null : <span className="soft">{say` as ${label}`}</span>}
      <span className="resting-tags">
        {first.slice(0, SHOWN).map((ref) => (
          <TagLink key={ref.id} record={ref} />
        ))}
        {group.count > SHOWN ? (
          <a className="link soft" href={inTable}>
            {say`and ${count(group.count - Math.min(SHOWN, first.length))} more`}
          </a>
        ) : null}
      </span>
    </li>
  );
}
