/** Keys that work everywhere. No bare letters; in a text field being edited, undo and redo are the field's own. */
import { useEffect } from "react";
import type { MenuCommand } from "../../core/operations/wire.ts";
import type { Client } from "../client/client.ts";
import { useClient } from "../client/context.ts";
import { TABS, type TabName } from "../views/view.ts";
import { backUp, turnTheme } from "./commands.ts";
import { printPage } from "./paper.ts";
import { nextRegion } from "./region.tsx";
import { go } from "./router.ts";
import { openTab } from "./tabs.ts";
import { redo, undo } from "./undo.ts";

const isEditing = (target: EventTarget | null): boolean =>
  target instanceof HTMLElement && target.closest("input, textarea, [contenteditable=true]") !== null;

/** What stands in the box from before is replaced by what is typed now. */
export function focusSearch(): void {
  const field = document.querySelector<HTMLInputElement>("[data-search]");
  field?.focus();
  field?.select();
}

const COMMANDS: Readonly<Record<MenuCommand, (client: Client) => void>> = {
  undo: (client) => void undo(client),
  redo: (client) => void redo(client),
  find: focusSearch,
  print: (client) => void printPage(client),
  backup: (client) => void backUp(client),
  import: () => go("import"),
  export: () => go("export"),
  history: () => go("history"),
  theme: turnTheme,
};

function actOf(event: KeyboardEvent, client: Client): (() => void) | null {
  const ctrl = event.ctrlKey || event.metaKey;
  const key = event.key.toLowerCase();
  if (ctrl && key === "k") return focusSearch;
  if (ctrl && key === "p") return () => void printPage(client);
  if (key === "f6") return () => nextRegion(event.shiftKey ? -1 : 1);
  if (key === "f1") return () => go("keys");
  if (event.altKey && /^[1-9]$/.test(key)) {
    const tab = (Object.keys(TABS) as TabName[])[Number(key) - 1];
    return tab ? () => openTab(tab) : null;
  }
  // A desktop window has no back and forward keys of its own; in a field the arrows move by words.
  if (event.altKey && !ctrl && !event.shiftKey && !isEditing(event.target)) {
    if (key === "arrowleft") return () => history.back();
    if (key === "arrowright") return () => history.forward();
  }
  if (ctrl && !event.altKey && !isEditing(event.target)) {
    if (key === "z" && !event.shiftKey) return () => void undo(client);
    if (key === "y" || key === "z") return () => void redo(client);
  }
  return null;
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
