/** Every view, in the order of the list of questions. A new one adds its line here. */
import { acts } from "./acts/view.ts";
import { ask } from "./ask/view.ts";
import { breakout, breakoutClosing } from "./breakout/view.ts";
import { cable } from "./cable/view.ts";
import { check } from "./check/view.ts";
import { coils } from "./coils/view.ts";
import { compare } from "./compare/view.ts";
import { diverse } from "./diverse/view.ts";
import { enter } from "./enter/view.ts";
import { feeds } from "./feeds/view.ts";
import { fields } from "./fields/view.ts";
import { find } from "./find/view.ts";
import { fit } from "./fit/view.ts";
import { fitness } from "./fitness/view.ts";
import { free } from "./free/view.ts";
import { history } from "./history/view.ts";
import { impact } from "./impact/view.ts";
import { exportFolder, importFolder } from "./import/view.ts";
import { job } from "./job/view.ts";
import { keys } from "./keys/view.ts";
import { labels } from "./labels/view.ts";
import { limits } from "./limits/view.ts";
import { locate } from "./locate/view.ts";
import { loss } from "./loss/view.ts";
import { map } from "./map/view.ts";
import { mend } from "./mend/view.ts";
import { merge } from "./merge/view.ts";
import { notes } from "./notes/view.ts";
import { papers } from "./papers/view.ts";
import { pathway } from "./pathway/view.ts";
import { plan } from "./plan/view.ts";
import { prefs } from "./prefs/view.ts";
import { record } from "./record/view.ts";
import { run } from "./run/view.ts";
import { sheet } from "./sheet/view.ts";
import { TABS, type TabName, type View } from "./view.ts";
import { ways } from "./ways/view.ts";

export const VIEWS: readonly View[] = [
  find,
  feeds,
  cable,
  loss,
  free,
  pathway,
  plan,
  impact,
  ways,
  diverse,
  enter,
  acts,
  fields,
  record,
  run,
  sheet,
  notes,
  map,
  importFolder,
  exportFolder,
  history,
  compare,
  merge,
  check,
  fitness,
  fit,
  limits,
  locate,
  mend,
  breakout,
  breakoutClosing,
  job,
  coils,
  papers,
  labels,
  prefs,
  ask,
  keys,
];

export const FIRST_VIEW = "ask";

export const viewOf = (path: string): View | undefined => VIEWS.find((view) => view.path === path);

const isTab = (name: string | undefined): name is TabName => name !== undefined && name in TABS;

/** The tab that is marked in the head: the view's own, or on the list of questions the one it was opened for. */
export const tabShown = ({ tab, unlisted }: View, values: Readonly<Record<string, string>>): TabName =>
  unlisted && isTab(values.tab) ? values.tab : tab;
