/** What the dictionary says of a kind of record and each of its fields: meaning, unit, and what may stand in it. */
import { useEffect, useRef } from "react";
import { KIND_NAMES, KINDS, type KindName } from "../../../core/model/dictionary.ts";
import type { Field } from "../../../core/model/field.ts";
import { withArticle } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { takes } from "../../grid/takes.ts";
import type { ViewProps } from "../view.ts";
import "./fields.css";

export function Fields({ values: { kind: asked, at } }: ViewProps) {
  const kind = KIND_NAMES.find((one) => one === asked) ?? (KIND_NAMES[0] as KindName);
  const { help, fields, one } = KINDS[kind];
  const pointed = useRef<HTMLTableRowElement>(null);
  // Which field is asked about is part of the address: its row is brought into sight.
  // biome-ignore lint/correctness/useExhaustiveDependencies: the row is another one when kind or field changes.
  useEffect(() => {
    pointed.current?.scrollIntoView({ block: "center" });
  }, [kind, at]);
  return (
    <Page
      answer={help}
      acts={
        <a className="button" href={addressOf("enter", { kind })}>
          {say`Show them`}
        </a>
      }
    >
      <Region name="ledger" label={say`Fields of ${withArticle(one)}`} className="fields-ledger" reachable>
        <table className="fields-table">
          <thead>
            <tr>
              <th scope="col">{say`field`}</th>
              <th scope="col">{say`what it means`}</th>
              <th scope="col">{say`what may stand in it`}</th>
            </tr>
          </thead>
          <tbody>
            {Object.entries(fields as Readonly<Record<string, Field>>).map(([name, field]) => (
              <tr key={name} {...(name === at ? { ref: pointed, "aria-current": "true" as const } : {})}>
                <th scope="row">{field.label}</th>
                <td>{field.help}</td>
                <td className="soft">{takes(field)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Region>
    </Page>
  );
}
