/** Keys that work everywhere. No bare letters; in a text field being edited, undo and redo are the field's own. */
import { useEffect } from "react";
import type { MenuCommand } from "../../core/operations/wire.ts";
import type { Client } from "../client/client.ts";
import { useClient } from "../client/context.ts";
import { TABS, type TabName } from "../views/view.ts";
import { ACTS_SIGN, backUp, focusSearch, turnTheme } from "./commands.ts";
import { askHelp } from "./help.tsx";
import { actFor } from "./key-table.ts";
import { printPage } from "./paper.ts";
import { nextRegion } from "./region.tsx";
import { go } from "./router.ts";
import { openTab } from "./tabs.ts";
import { redo, undo } from "./undo.ts";

const isEditing = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest("input, textarea, [contenteditable=true]") !== null;

const COMMANDS: Readonly<Record<MenuCommand, (client: Client) => void>> = {
  undo: (client) => void undo(client),
  redo: (client) => void redo(client),
  find: () => focusSearch(),
  print: (client) => void printPage(client),
  backup: (client) => void backUp(client),
  import: () => go("import"),
  export: () => go("export"),
  history: () => go("history"),
  theme: turnTheme,
  acts: () => focusSearch(ACTS_SIGN),
  before: () => history.back(),
  after: () => history.forward(),
  help: () => askHelp(document.activeElement),
  keys: () => go("keys"),
};

/** Acts of a text field while somebody types in it: there they are the field's own. */
const FIELDS_OWN: ReadonlySet<string> = new Set(["undo", "redo", "before", "after"]);
/** A cell is kept when one goes elsewhere, and Alt with an arrow goes elsewhere; in other fields it may go by words. */
const CELLS_OWN: ReadonlySet<string> = new Set(["undo", "redo"]);

function actOf(event: KeyboardEvent, client: Client): (() => void) | null {
  const press = {
    key: event.key,
    ctrl: event.ctrlKey || event.metaKey,
    shift: event.shiftKey,
    alt: event.altKey,
  };
  const act = actFor("Everywhere", press);
  const inCell = event.target instanceof HTMLElement && event.target.closest("[role=grid]") !== null;
  const own = inCell ? CELLS_OWN : FIELDS_OWN;
  if (!act || (own.has(act) && isEditing(event.target))) return null;
  switch (act) {
    case "search":
      return () => focusSearch();
    case "region":
      return () => nextRegion(event.shiftKey ? -1 : 1);
    case "help":
      return () => askHelp(event.target);
    case "tab": {
      const tab = (Object.keys(TABS) as TabName[])[Number(event.key) - 1];
      return tab ? () => openTab(tab) : null;
    }
    case "open":
      return () => void client.capabilities.openPlant();
    case "acts":
    case "before":
    case "after":
    case "print":
    case "undo":
    case "redo":
      return () => COMMANDS[act](client);
    default:
      return null;
  }
}

export function useShortcuts(): void {
  const client = useClient();
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      if (event.defaultPrevented) return;
      const act = actOf(event, client);
      if (!act) return;
      event.preventDefault();
      act();
    };
    window.addEventListener("keydown", onKey);
    return () => window.removeEventListener("keydown", onKey);
  }, [client]);

  useEffect(
    () =>
      client.onMenu((command) => {
        // In a field being edited the menu's undo is the field's own.
        if ((command === "undo" || command === "redo") && isEditing(document.activeElement)) {
          document.execCommand(command);
        } else COMMANDS[command](client);
      }),
    [client],
  );
}
