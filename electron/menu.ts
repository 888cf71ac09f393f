/** The application menu as data. Undo and redo belong to the plant, not to the text field: the page carries them out. */
import type { MenuItemConstructorOptions } from "electron";
import type { MenuCommand } from "../core/operations/wire.ts";
import { say } from "../core/words/say.ts";

export interface MenuActs {
  send(command: MenuCommand): void;
  /** Null where the user is to choose. */
  openPlant(path: string | null): void;
  newPlant(): void;
}

/** A plant file opened on this machine before. */
export interface RecentFile {
  readonly path: string;
  readonly name: string;
}

/** Its keys are those of the window's own table (`renderer/frame/key-table.ts`). */
export function menuTemplate(
  acts: MenuActs,
  recent: readonly RecentFile[],
  mac: boolean,
): MenuItemConstructorOptions[] {
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
        {
          label: say`Open plant…`,
          accelerator: "CmdOrCtrl+O",
          registerAccelerator: false,
          click: () => acts.openPlant(null),
        },
        {
          label: say`Open again`,
          enabled: recent.length > 0,
          // Two of one name are told apart by where they lie; the sign that marks a letter as a key is doubled.
          submenu: recent.map(({ path, name }) => ({
            label: `${name} – ${path}`.replaceAll("&", "&&"),
            click: () => acts.openPlant(path),
          })),
        },
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
        command(say`Find an act`, "acts", "CmdOrCtrl+Shift+P"),
      ],
    },
    {
      label: say`&View`,
      submenu: [
        command(say`The question before`, "before", "Alt+Left"),
        command(say`The question after`, "after", "Alt+Right"),
        line,
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
    {
      label: say`&Help`,
      submenu: [command(say`Help on this page`, "help", "F1"), command(say`Keys and drawings`, "keys")],
    },
  ];
}
