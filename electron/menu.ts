/** The application menu as data. Undo and redo belong to the plant, not to the text field: the page carries them out. */
import type { MenuItemConstructorOptions } from "electron";
import type { MenuCommand } from "../core/operations/wire.ts";
import { say } from "../core/words/say.ts";

export interface MenuActs {
  send(command: MenuCommand): void;
  openPlant(): void;
  newPlant(): void;
}

export function menuTemplate(acts: MenuActs, mac: boolean): MenuItemConstructorOptions[] {
  const command = (label: string, what: MenuCommand, accelerator?: string): MenuItemConstructorOptions => ({
    label,
    click: () => acts.send(what),
    // Shown, not taken: the page hears the keys itself, and a text field being typed in keeps its own undo.
    ...(accelerator ? { accelerator, registerAccelerator: false } : {}),
  });
  const line: MenuItemConstructorOptions = { type: "separator" };
  return [
    ...(mac ? [{ role: "appMenu" } as const] : []),
    {
      label: say`&File`,
      submenu: [
        { label: say`Open plant…`, accelerator: "CmdOrCtrl+O", click: () => acts.openPlant() },
        { label: say`New plant…`, click: () => acts.newPlant() },
        line,
        command(say`Import a folder…`, "import"),
        command(say`Export to a folder…`, "export"),
        command(say`Back up now`, "backup"),
        line,
        command(say`Print…`, "print", "CmdOrCtrl+P"),
        ...(mac ? [] : [line, { role: "quit" } as const]),
      ],
    },
    {
      label: say`&Edit`,
      submenu: [
        command(say`Undo`, "undo", "CmdOrCtrl+Z"),
        command(say`Redo`, "redo", mac ? "Shift+Cmd+Z" : "CmdOrCtrl+Y"),
        command(say`History`, "history"),
        line,
        { role: "cut" },
        { role: "copy" },
        { role: "paste" },
        { role: "selectAll" },
        line,
        command(say`Find a tag`, "find", "CmdOrCtrl+K"),
      ],
    },
    {
      label: say`&View`,
      submenu: [
        command(say`Light or dark`, "theme"),
        line,
        { role: "resetZoom" },
        { role: "zoomIn" },
        { role: "zoomOut" },
        line,
        { role: "togglefullscreen" },
      ],
    },
    { role: "windowMenu" },
  ];
}
