/** Which plant, which verb, and the box that finds any tag. */
import { TABS, type TabName } from "../views/view.ts";
import { Region } from "./region.tsx";
import { useRoute } from "./router.ts";
import { tabAddress } from "./tabs.ts";

export function Head({ tab }: { readonly tab: TabName; readonly listed: boolean }) {
  useRoute();
  return (
    <Region name="head" label="Plant and tabs" as="header" className="head">
      <div className="plant">
        <b>Strandbook</b>
      </div>
      <nav className="tabs" aria-label="What to do">
        {(Object.keys(TABS) as TabName[]).map((name) => (
          <a key={name} href={tabAddress(name, location.hash)} aria-current={name === tab ? "page" : undefined}>
            <b>{TABS[name].verb}</b>
            <span>{TABS[name].asks}</span>
          </a>
        ))}
      </nav>
    </Region>
  );
}
