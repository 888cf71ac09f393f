/** What stands under a row and before it: cells that were refused, what was found of the record. */
import { type RefObject, useCallback, useMemo } from "react";
import type { Severity } from "../../../core/check/finding.ts";
import type { KindName } from "../../../core/model/dictionary.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useSettings } from "../../client/settings.ts";
import { FindingMark } from "../../drawing/findings.tsx";
import { WaitsMark } from "../../grid/CellText.tsx";
import type { Line } from "../../grid/GridRow.tsx";
import type { GridRow } from "../../grid/row-source.ts";
import type { RowKey, Typed } from "../../grid/typed.ts";
import type { Editing } from "../../grid/use-editing.ts";
import { FindingLine } from "../check/finding-line.tsx";
import { useFindingsOf } from "../check/findings-store.ts";
import { RefusalLine } from "./refusal-line.tsx";

/** So many findings are written under one row; the mark and its page tell of all. */
const LINES_OF_ROW = 2;
const WRONG: ReadonlySet<Severity> = new Set(["hazard", "error", "warning"]);

export function useRowNotes(kind: KindName, typed: Typed, editing: RefObject<Editing | null>) {
  const findings = useFindingsOf(kind);
  const { findingsFolded } = useSettings();
  const linesOf = useCallback(
    (row: GridRow | null, key: RowKey, now: Editing): readonly Line[] => {
      editing.current = now;
      const refusals = [...typed.row(key)].flatMap(([field, cell]) =>
        cell.state === "refused"
          ? [
              {
                key: `refused ${field}`,
                node: <RefusalLine kind={kind} rowKey={key} field={field} cell={cell} editing={now} />,
              },
            ]
          : [],
      );
      // Under the row stands what is wrong with it; what is only not known, or could be better, its mark and page tell.
      const found = row
        ? (findings.get(row.id) ?? []).filter(({ severity }) =>
            findingsFolded ? severity === "hazard" : WRONG.has(severity),
          )
        : [];
      const shown = found.slice(0, LINES_OF_ROW).map((finding) => ({
        key: `${finding.rule} ${finding.key}`,
        node: <FindingLine finding={finding} />,
      }));
      return [...refusals, ...shown];
    },
    [kind, typed, findings, findingsFolded, editing],
  );
  const markOf = useCallback(
    (row: GridRow | null, key: RowKey) => {
      const refused = [...typed.row(key).values()].filter((cell) => cell.state === "refused").length;
      if (refused > 0)
        return { mark: <FindingMark shape="error" />, words: say`${counted(refused, "cell", "cells")} not written` };
      const waiting = [...typed.row(key).values()].filter((cell) => cell.state === "waiting").length;
      if (waiting > 0) return { mark: <WaitsMark />, words: say`${counted(waiting, "cell", "cells")} not written yet` };
      const found = row ? findings.get(row.id) : undefined;
      const [worst] = found ?? [];
      if (!found || !worst) return null;
      return { mark: <FindingMark shape={worst.severity} />, words: counted(found.length, "finding", "findings") };
    },
    [typed, findings],
  );
  /** Whether a row has something under it that could be folded away. */
  const foldable = useMemo(
    () =>
      [...findings.values()].some((found) =>
        found.some(({ severity }) => severity !== "hazard" && WRONG.has(severity)),
      ),
    [findings],
  );
  return { linesOf, markOf, foldable };
}
