/** The desktop window's menu shows the keys of the window's own table: there is one list of them. */
import type { MenuItemConstructorOptions } from "electron";
import { describe, expect, it } from "vitest";
import { menuTemplate } from "../../electron/menu.ts";
import { KEY_TABLE } from "../../renderer/frame/key-table.ts";

const nothing = () => {};
const items = (list: readonly MenuItemConstructorOptions[]): MenuItemConstructorOptions[] =>
  list.flatMap((item) => [item, ...(Array.isArray(item.submenu) ? items(item.submenu) : [])]);

const SIGNS: Readonly<Record<string, string>> = { CmdOrCtrl: "Ctrl", Left: "←", Right: "→" };
/** `CmdOrCtrl+Shift+P` as the table writes it: `Ctrl Shift P`. */
const written = (accelerator: string): string =>
  accelerator
    .split("+")
    .map((part) => SIGNS[part] ?? part)
    .join(" ");

describe("the application menu", () => {
  const shown = items(menuTemplate({ send: nothing, openPlant: nothing, newPlant: nothing }, [], false)).flatMap(
    ({ accelerator }) => (accelerator ? [written(String(accelerator))] : []),
  );
  const everywhere = KEY_TABLE.filter(({ group }) => group === "Everywhere");

  it("shows no key that the table hasn't", () => {
    // A browser's own key; in the table where there is a desktop window.
    const known = [...everywhere.flatMap(({ keys }) => keys), "Ctrl O"];
    expect(shown.filter((keys) => !known.includes(keys))).toEqual([]);
  });
  it("has every act that is heard everywhere, but for those that go about in the page itself", () => {
    const lacking = everywhere.filter(({ keys }) => !keys.some((one) => shown.includes(one))).map(({ act }) => act);
    expect(lacking).toEqual(["tab", "region"]);
  });
});
