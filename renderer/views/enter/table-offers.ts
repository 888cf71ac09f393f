/** What the list of acts offers of a table as it is asked: its views by their names, its labels, and all of its rows again. */

import { KINDS, type KindName } from "../../../core/model/dictionary.ts";
import { LABELLED } from "../../../core/model/labelled.ts";
import { say } from "../../../core/words/say.ts";
import type { Offer } from "../../frame/commands.ts";
import { go } from "../../frame/router.ts";
import { type SavedView, savedViews } from "../../grid/saved-views.ts";
import { labelsOfTable } from "../labels/asked.ts";
import type { Selection } from "./use-table.ts";

export function tableOffers(table: {
  readonly kind: KindName;
  readonly selection: Selection;
  /** Null where nothing is filtered. */
  readonly showAll: (() => void) | null;
  readonly openView: (view: SavedView) => void;
}): readonly Offer[] {
  const { kind, selection, showAll, openView } = table;
  const { many } = KINDS[kind];
  const about = say`the table of ${many}`;
  return [
    ...(showAll ? [{ key: "show all", words: say`show all ${many}, leave the filters`, about, run: showAll }] : []),
    ...savedViews(kind).map((view) => ({
      key: `view ${view.name}`,
      words: say`view ${view.name}`,
      about,
      run: () => openView(view),
    })),
    ...((LABELLED as readonly KindName[]).includes(kind)
      ? [
          {
            key: "labels",
            words: say`labels for the ${many} shown`,
            about,
            run: () => go("labels", { of: labelsOfTable(selection) }),
          },
        ]
      : []),
  ];
}
