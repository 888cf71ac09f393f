import { join } from "node:path";
import { _electron } from "playwright";
import { describe, expect, it, onTestFinished } from "vitest";
import { createPlant } from "../../host/plant-file.ts";
import { buildElectron, buildRenderer } from "../../setup/build.ts";
import { findElectron } from "../../setup/electron.ts";
import { hasScreen } from "../../setup/window.ts";
import { newFolder } from "../support/plant.ts";

// The package's own folder is looked at, not what the tests set against downloads.
const binary = findElectron({});
const reason = binary === null ? "Electron's binary is not on this machine" : hasScreen() ? null : "there is no screen";

describe(`the real Electron${reason === null ? "" : ` (NOT RUN: ${reason})`}`, () => {
  it.skipIf(reason !== null)("opens a plant in its window and answers a call", { timeout: 240_000 }, async () => {
    const folder = newFolder();
    const file = join(folder, "campus.strandbook");
    await createPlant(file, "Test Campus");
    await buildRenderer();
    const bundles = await buildElectron();
    const { ELECTRON_OVERRIDE_DIST_PATH: _, ...env } = process.env;
    const shell = await _electron.launch({
      executablePath: binary as string,
      args: [
        join(bundles, "main.js"),
        `--user-data-dir=${join(folder, "user")}`,
        ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
        file,
      ],
      env: env as Record<string, string>,
    });
    onTestFinished(() => shell.close());
    const page = await shell.firstWindow();
    expect(page.url()).toBe("strandbook://window/");
    // Written as text: the page's own `window` is no part of this file's types.
    const reply = await page.evaluate('window.strandbook.call({ id: "smoke", name: "plant.read" })');
    expect(reply).toMatchObject({ ok: true });
    expect(await page.evaluate("typeof require + typeof process")).toBe("undefinedundefined");
  });
});
