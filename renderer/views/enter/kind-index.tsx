/** The kinds of record, grouped, with how many there are and what was found in them. */

import { type KeyboardEvent, type ReactNode, useEffect, useRef } from "react";
import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { capital } from "../../../core/words/phrase.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { count } from "../../controls/figures.ts";
import { addressOf } from "../../frame/router.ts";
import { KIND_GROUPS } from "../../grid/columns.ts";

export function KindIndex({
  kind,
  markOf,
}: {
  readonly kind: KindName;
  /** The worst finding of a kind and how many, or null. */
  readonly markOf: (
    kind: KindName,
  ) => { readonly mark: ReactNode; readonly count: number; readonly words: string } | null;
}) {
  const index = useRef<HTMLElement>(null);
  const { value } = useAnswer("plant.summary", {});
  const counted = value !== undefined;
  // The kind asked for is in view, however one came to it.
  useEffect(() => {
    if (counted) index.current?.querySelector(`[data-kind="${kind}"]`)?.scrollIntoView({ block: "nearest" });
  }, [kind, counted]);
  // One tab stop, walked with the arrows: the table is one Tab further.
  const walk = (event: KeyboardEvent): void => {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const links = [...(index.current?.querySelectorAll<HTMLAnchorElement>("a") ?? [])];
    const at = links.indexOf(event.target as HTMLAnchorElement);
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: links.length - 1 }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    links[Math.max(0, Math.min(links.length - 1, to))]?.focus();
  };
  const counts = new Map(value?.counts.map((one) => [one.kind, one.count]));
  return (
    <nav ref={index} className="kind-index" aria-label={say`Kinds of record, walked with the arrows`} onKeyDown={walk}>
      {KIND_GROUPS.map((group) => (
        <section key={group.name} aria-labelledby={`group-${group.name}`}>
          <h2 id={`group-${group.name}`}>{group.name}</h2>
          <ul>
            {group.kinds.map((one) => {
              const found = markOf(one);
              const number = counts.get(one);
              return (
                <li key={one}>
                  <a
                    data-kind={one}
                    tabIndex={one === kind ? 0 : -1}
                    href={addressOf("enter", { kind: one })}
                    {...(one === kind ? { "aria-current": "page" } : {})}
                  >
                    <span className="kind-name">{capital(KINDS[one].many)}</span>
                    {found ? (
                      <span className="kind-found" title={found.words}>
                        {found.mark}
                        {count(found.count)}
                        <span className="hush"> {found.words},</span>
                      </span>
                    ) : null}
                    <span className={number === 0 ? "kind-count none" : "kind-count"}>
                      {number === undefined ? "" : number === 0 ? say`none` : count(number)}
                    </span>
                  </a>
                </li>
              );
            })}
          </ul>
        </section>
      ))}
      <section aria-labelledby="group-also">
        <h2 id="group-also">{say`Also`}</h2>
        <ul>
          {ALSO.map(({ path, words }) => (
            <li key={path}>
              <a href={addressOf(path)} tabIndex={-1}>
                {words}
              </a>
            </li>
          ))}
        </ul>
      </section>
    </nav>
  );
}

const ALSO = [
  { path: "acts", words: say`What was done?` },
  { path: "history", words: say`What was changed?` },
  { path: "import", words: say`Read a folder` },
  { path: "export", words: say`Write a folder` },
] as const;
