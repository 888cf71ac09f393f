/** A tab opens its last question; pressed again, the list of questions. */
import { lastAsked } from "../client/asked.ts";
import { viewOf } from "../views/registry.ts";
import type { TabName } from "../views/view.ts";
import { addressOf, go, parseRoute } from "./router.ts";

export const tabAddress = (tab: TabName, here: string): string => {
  const shown = viewOf(parseRoute(here).path);
  const last = lastAsked(tab);
  return shown && !shown.unlisted && shown.tab === tab
    ? addressOf("ask", { tab })
    : (last ?? addressOf("ask", { tab }));
};

export function openTab(tab: TabName): void {
  const { path, values } = parseRoute(tabAddress(tab, location.hash));
  go(path, values);
}
