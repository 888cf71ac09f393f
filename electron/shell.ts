/** The desktop shell: one window on one plant file, whose core runs in a process of its own. */
import { realpath } from "node:fs/promises";
import { basename, join } from "node:path";
import {
  app,
  BrowserWindow,
  dialog,
  ipcMain,
  Menu,
  nativeTheme,
  protocol,
  type SaveDialogOptions,
  screen,
  session,
  shell as system,
  utilityProcess,
} from "electron";
import { z } from "zod";
import type {
  Kept,
  MenuCommand,
  PaperReply,
  ThemeChoice,
  WireCall,
  WireEvent,
  WirePaper,
  WireStopped,
} from "../core/operations/wire.ts";
import { Refusal } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import type { WindowWords } from "../core/words/wire.ts";
import { KeptFile } from "../host/machine/kept.ts";
import { keepPdf } from "../host/paper/keep.ts";
import { readPages, withWords } from "../host/window/pages.ts";
import { answerPage, type PageActs } from "./answers.ts";
import { EVENT_CHANNEL } from "./channels.ts";
import { Deaths } from "./deaths.ts";
import { ENDING, fileFromWords } from "./files.ts";
import { menuTemplate } from "./menu.ts";
import { type Opened, PlantClient } from "./plant-client.ts";
import { pageResponder } from "./protocol.ts";
import { lockContents, lockSession, PAGE_URL, PRIVILEGES, SCHEME, windowOptions } from "./security.ts";
import { openingBounds, readState, type WindowState, writeState } from "./window-state.ts";

/** Where the built parts lie. */
export interface Places {
  readonly pages: string;
  readonly preload: string;
  readonly plantProcess: string;
  /** The file of what this machine keeps for its user. */
  readonly kept: string;
  /** The language that is spoken. */
  readonly words: WindowWords;
}

/** What the window holds between the pages of two plants. */
const NO_PAGE = "about:blank";
const GROUND = { light: "#f2f2f0", dark: "#121311" };
const PDF_FILTERS = [{ name: "PDF", extensions: ["pdf"] }];
const FILTERS = [{ name: say`Plant files`, extensions: [ENDING.slice(1)] }];

export class Shell implements PageActs {
  readonly #places: Places;
  readonly #stateFile: string;
  readonly #kept: KeptFile;
  #state: WindowState;
  #window: BrowserWindow | null = null;
  #plant: PlantClient | null = null;
  #file: string | null = null;
  readonly #deaths = { plant: new Deaths(), page: new Deaths() };
  #switching: Promise<unknown> = Promise.resolve();

  constructor(places: Places) {
    this.#places = places;
    this.#kept = new KeptFile(places.kept);
    this.#stateFile = join(app.getPath("userData"), "window.json");
    this.#state = readState(this.#stateFile);
  }

  /** Once Electron is ready. */
  async start(file: string | null): Promise<void> {
    const pages = withWords(await readPages(this.#places.pages), this.#places.words);
    lockSession(session.defaultSession);
    protocol.handle(SCHEME, pageResponder(pages));
    answerPage(ipcMain, () => this.#window?.webContents ?? null, this);
    await this.#setMenu();
    nativeTheme.themeSource = this.#state.theme;

    // While it is asked which, a second start may have named one.
    if (!(file ? await this.switchTo(file) : await this.#openChosen()) && !this.#plant) return app.quit();
    this.#openWindow();
  }

  /**
   * Opens another plant file in the place of this one; on failure says why and stays. Answers whether it is open. One after
   * the other: a file that is named twice at once is opened once, and not read beside itself.
   */
  switchTo(file: string, words: readonly string[] = []): Promise<boolean> {
    const opened = this.#switching.then(() => this.#switch(file, words));
    this.#switching = opened.catch(() => {});
    return opened;
  }

  async #switch(named: string, words: readonly string[]): Promise<boolean> {
    // Opened by another name as well, it would be read beside itself.
    const file = await realpath(named).catch(() => named);
    if (file === this.#file && this.#plant) return true;
    const opened = await this.#open(file, words);
    if (!opened.ok) {
      await this.#say(opened.message, opened.problems.map((problem) => problem.reason).join("\n"));
      return false;
    }
    // The page of the plant before is gone before another one answers: it would write its own numbers into that.
    const left = await this.#leavePage();
    if (!left && file !== this.#file) {
      await opened.plant.close();
      return false;
    }
    const before = this.#plant;
    this.#plant = opened.plant;
    this.#file = file;
    await before?.close();
    await this.#kept.noteOpened(file, new Date().toISOString());
    app.addRecentDocument(file);
    await this.#setMenu();
    this.#window?.setTitle(say`${basename(file)} – Strandbook`);
    if (left) {
      await this.#window?.loadURL(PAGE_URL);
      // Back would lead to what was asked of the plant before.
      this.#window?.webContents.navigationHistory.clear();
    }
    return true;
  }

  /** Answers false where something on the page is in no file yet and the user stays with it. */
  async #leavePage(): Promise<boolean> {
    try {
      await this.#window?.loadURL(NO_PAGE);
      return true;
    } catch {
      return false;
    }
  }

  async #setMenu(): Promise<void> {
    const acts = {
      send: (command: MenuCommand) => this.#tell({ type: "menu", command }),
      openPlant: (path: string | null) => void this.openPlant(path),
      newPlant: () => void this.#newPlant(),
    };
    const recent = Object.entries((await this.#kept.read()).recent ?? {})
      .filter(([path]) => path !== this.#file)
      .map(([path, { name }]) => ({ path, name }))
      .reverse();
    Menu.setApplicationMenu(Menu.buildFromTemplate(menuTemplate(acts, recent, process.platform === "darwin")));
  }

  show(): void {
    if (this.#window?.isMinimized()) this.#window.restore();
    this.#window?.focus();
  }

  async close(): Promise<void> {
    const plant = this.#plant;
    this.#plant = null;
    await plant?.close();
  }

  // What the page asks.

  call(call: WireCall): Promise<string> {
    return this.#plant ? this.#plant.call(call) : Promise.reject(new Error("no plant is open"));
  }

  async stop(id: string): Promise<WireStopped> {
    return this.#plant ? this.#plant.stop({ id }) : { stopped: false };
  }

  async paper(asked: WirePaper): Promise<PaperReply> {
    if (!this.#plant) throw new Error("no plant is open");
    const printed = await this.#plant.paper(asked);
    if (!printed.ok) return { ok: false, error: printed.error };
    const { bytes, name, pages, missing } = printed.value;
    const path = await this.#chooseNew({ title: say`Save the PDF`, defaultPath: name, filters: PDF_FILTERS });
    if (path === null) return { ok: true, value: null };
    try {
      // The dialog has asked whether a file of that name is to be replaced.
      await keepPdf(bytes, path, { replace: true });
    } catch (error) {
      if (error instanceof Refusal) return { ok: false, error: error.failure };
      throw error;
    }
    return { ok: true, value: { name: basename(path), pages, missing, path } };
  }

  kept(): Promise<Kept> {
    return this.#kept.read();
  }

  async keep(raw: unknown): Promise<void> {
    this.#tell({ type: "kept", ...(await this.#kept.keep(raw)) });
  }

  chooseFile(what: string): Promise<string | null> {
    return this.#choose(what, "openFile");
  }

  chooseFolder(what: string): Promise<string | null> {
    return this.#choose(what, "openDirectory", "createDirectory");
  }

  async reveal(path: string): Promise<void> {
    system.showItemInFolder(path);
  }

  async print(): Promise<void> {
    this.#window?.webContents.print();
  }

  async theme(choice: ThemeChoice): Promise<void> {
    nativeTheme.themeSource = choice;
    this.#keep({ ...this.#state, theme: choice });
  }

  async openPlant(path: string | null): Promise<void> {
    if (path === null) await this.#openChosen();
    // The page names none but those opened here before, and what is named like one; all others are the user's to choose.
    else if (path.endsWith(ENDING) || Object.hasOwn((await this.#kept.read()).recent ?? {}, path))
      await this.switchTo(path);
    else await this.#say(say`${basename(path)} is not named like a plant file (${ENDING}), so it is not opened.`, path);
  }

  async #openChosen(): Promise<boolean> {
    const file = await this.#choose(say`Open a plant`, "openFile");
    return file !== null && this.switchTo(file);
  }

  async #newPlant(): Promise<void> {
    const path = await this.#chooseNew({ title: say`New plant`, defaultPath: `Plant${ENDING}`, filters: FILTERS });
    if (path !== null) await this.switchTo(path, ["--new"]);
  }

  async #chooseNew(options: SaveDialogOptions): Promise<string | null> {
    const chosen = this.#window
      ? await dialog.showSaveDialog(this.#window, options)
      : await dialog.showSaveDialog(options);
    return chosen.canceled ? null : chosen.filePath;
  }

  #open(file: string, words: readonly string[]): Promise<Opened> {
    const child = utilityProcess.fork(this.#places.plantProcess, [file, ...words], {
      serviceName: "Strandbook plant",
      stdio: "inherit",
    });
    return PlantClient.open(child, {
      event: (event) => {
        if (this.#file === file) this.#tell(event);
      },
      died: () => void this.#died(file),
    });
  }

  async #died(file: string): Promise<void> {
    if (file !== this.#file || this.#plant === null) return;
    this.#plant = null;
    if (!this.#deaths.plant.tooOften()) {
      if (await this.switchTo(file)) return;
    } else {
      await this.#say(say`The part of the program that keeps the plant file stops again and again.`, file);
    }
    app.quit();
  }

  #openWindow(): void {
    const screens = screen.getAllDisplays().map((display) => display.workArea);
    const bounds = openingBounds(this.#state.bounds, screens);
    const ground = nativeTheme.shouldUseDarkColors ? GROUND.dark : GROUND.light;
    const window = new BrowserWindow(windowOptions(this.#places.preload, bounds, ground));
    this.#window = window;
    if (this.#state.maximized) window.maximize();
    if (this.#file) window.setTitle(say`${basename(this.#file)} – Strandbook`);
    window.once("ready-to-show", () => window.show());
    window.on("close", () =>
      this.#keep({ ...this.#state, bounds: window.getNormalBounds(), maximized: window.isMaximized() }),
    );
    window.on("closed", () => {
      this.#window = null;
    });
    // Otherwise Electron would leave the window open without a word.
    window.webContents.on("will-prevent-unload", (event) => {
      if (this.#leaves(window)) event.preventDefault();
    });
    window.webContents.on("render-process-gone", (_event, gone) => {
      if (gone.reason !== "clean-exit") void this.#pageGone(window);
    });
    void window.loadURL(PAGE_URL);
  }

  async #pageGone(window: BrowserWindow): Promise<void> {
    if (!this.#deaths.page.tooOften()) return window.loadURL(PAGE_URL);
    await this.#say(say`The window's page stops again and again. What had been saved is safe.`, this.#file ?? "");
    app.quit();
  }

  /** Asks whether a page is left that holds what no file has yet. */
  #leaves(window: BrowserWindow): boolean {
    const answer = dialog.showMessageBoxSync(window, {
      type: "warning",
      message: say`Files dropped on this page are not in the plant file yet. Leaving now loses them.`,
      buttons: [say`Stay`, say`Leave without them`],
      defaultId: 0,
      cancelId: 0,
    });
    return answer === 1;
  }

  #tell(event: WireEvent): void {
    this.#window?.webContents.send(EVENT_CHANNEL, event);
  }

  #keep(state: WindowState): void {
    this.#state = state;
    writeState(this.#stateFile, state);
  }

  async #choose(
    title: string,
    ...properties: ("openFile" | "openDirectory" | "createDirectory")[]
  ): Promise<string | null> {
    const filters = properties.includes("openFile") ? [...FILTERS, { name: say`All files`, extensions: ["*"] }] : [];
    const options = { title, properties, filters };
    const chosen = this.#window
      ? await dialog.showOpenDialog(this.#window, options)
      : await dialog.showOpenDialog(options);
    return chosen.canceled ? null : (chosen.filePaths[0] ?? null);
  }

  async #say(message: string, detail: string): Promise<void> {
    const options = { type: "warning" as const, message, detail, buttons: [say`Close`] };
    if (this.#window) await dialog.showMessageBox(this.#window, options);
    else await dialog.showMessageBox(options);
  }
}

/** Wires Electron's own events to the shell. */
export function runShell(places: Places): void {
  const words = process.argv.slice(app.isPackaged ? 1 : 2);
  let file = fileFromWords(words, process.cwd());

  app.enableSandbox();
  protocol.registerSchemesAsPrivileged([PRIVILEGES]);
  app.on("web-contents-created", (_event, contents) => lockContents(contents));

  // A second start hands its file to the first and ends.
  if (!app.requestSingleInstanceLock({ file })) {
    app.quit();
    return;
  }

  let shell: Shell | null = null;
  const openNamed = (named: string) => {
    if (!shell) {
      file = named;
      return;
    }
    // First, so that what is said of the file is seen.
    shell.show();
    void shell.switchTo(named);
  };
  app.on("second-instance", (_event, _words, _folder, said) => {
    const second = z.object({ file: z.string().nullable() }).safeParse(said);
    if (second.success && second.data.file) openNamed(second.data.file);
    else shell?.show();
  });
  app.on("open-file", (event, named) => {
    event.preventDefault();
    openNamed(named);
  });
  app.on("window-all-closed", () => app.quit());
  let closed = false;
  app.on("will-quit", (event) => {
    if (closed) return;
    event.preventDefault();
    void (shell?.close() ?? Promise.resolve()).then(() => {
      closed = true;
      app.quit();
    });
  });

  void app.whenReady().then(async () => {
    shell = new Shell(places);
    await shell.start(file);
  });
}
