/** Which plant, which verb, and the box that finds any tag. */
import { useEffect } from "react";
import { say } from "../../core/words/say.ts";
import { settings } from "../client/settings.ts";
import { useAnswer } from "../client/use-answer.ts";
import { VIEWS } from "../views/registry.ts";
import { TABS, type TabName } from "../views/view.ts";
import { Region } from "./region.tsx";
import { useRoute } from "./router.ts";
import { Search } from "./search.tsx";
import { tabAddress } from "./tabs.ts";
import { useStatus } from "./use-status.ts";

/** A tab is there when something stands behind it. */
const SHOWN = (Object.keys(TABS) as TabName[]).filter((name) =>
  VIEWS.some((view) => view.tab === name && !view.unlisted),
);

const fileName = (path: string): string => path.split(/[\\/]/).at(-1) ?? path;

export function Head({ tab }: { readonly tab: TabName }) {
  // The address of each tab depends on what is shown now.
  useRoute();
  const plant = useAnswer("plant.read", {}, { kinds: ["plant"] }).value;
  const status = useStatus();
  const unit = plant?.length_unit;
  useEffect(() => {
    if (unit) settings.suggestUnit(unit);
  }, [unit]);
  return (
    <Region name="head" label={say`Plant and tabs`} as="header" className="head">
      <div className="plant" title={status?.path}>
        <b>{plant?.name ?? "Strandbook"}</b>
        <span>{status ? fileName(status.path) : ""}</span>
      </div>
      <nav className="tabs" aria-label={say`What to do`}>
        {SHOWN.map((name) => (
          <a key={name} href={tabAddress(name, location.hash)} aria-current={name === tab ? "page" : undefined}>
            <b>{TABS[name].verb}</b>
            <span>{TABS[name].asks}</span>
          </a>
        ))}
      </nav>
      <Search />
    </Region>
  );
}
