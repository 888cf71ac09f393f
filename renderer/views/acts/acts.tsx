/** "What was done?": the clerk's acts, each a sentence with blanks. */

import { say } from "../../../core/words/say.ts";
import { partsOf } from "../../forms/act.ts";
import { ACT_GROUPS, actNamed } from "../../forms/acts/index.ts";
import { useTypedForms } from "../../forms/kept-form.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { ActPage } from "./act-page.tsx";
import "./acts.css";

/** Acts that were begun; the address of each is its form's key. */
function Begun() {
  const begun = useTypedForms().filter(({ key }) => key.startsWith(addressOf("acts")));
  if (begun.length === 0) return null;
  return (
    <section className="acts-begun" aria-labelledby="acts-begun">
      <h2 id="acts-begun">{say`Typed and not written`}</h2>
      <ul>
        {begun.map(({ key, title }) => (
          <li key={key}>
            <a href={key}>{title}</a>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Acts({ values }: ViewProps) {
  const { do: name, ...rest } = values;
  const act = name ? actNamed(name) : undefined;
  if (act) return <ActPage key={addressOf("acts", values)} act={act} values={rest} />;
  return (
    <Page
      answer={say`Choose what was done in the plant. Each act says what it would change before anything is written, and one undo takes it back.`}
    >
      <Region name="ledger" label={say`Acts`} className="acts-list">
        <Begun />
        {ACT_GROUPS.map((group) => (
          <section key={group.title} aria-labelledby={`acts-${group.title}`}>
            <h2 id={`acts-${group.title}`}>{group.title}</h2>
            <ul>
              {group.acts.map((one) => (
                <li key={one.name}>
                  <a href={addressOf("acts", { do: one.name })}>
                    {partsOf(one.sentence).map((part) =>
                      "words" in part ? (
                        part.words
                      ) : (
                        <span key={part.blank} className="acts-blank">
                          {one.blanks[part.blank]?.label}
                        </span>
                      ),
                    )}
                  </a>
                </li>
              ))}
            </ul>
          </section>
        ))}
      </Region>
    </Page>
  );
}
