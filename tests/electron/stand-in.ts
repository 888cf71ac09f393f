/**
 * Stands in for the `electron` module in every test: it records what the shell asks of Electron and lets a test play the
 * page's and the system's part. What passes between page and program is copied as Electron copies it. The plant's process is
 * a real Node process that runs the real entry.
 */
import { type ChildProcess, fork } from "node:child_process";
import { EventEmitter } from "node:events";
import { fileURLToPath } from "node:url";
import type { BrowserWindowConstructorOptions, MenuItemConstructorOptions } from "electron";

type Listener = (...words: never[]) => unknown;
type Handler = (event: unknown, ...words: unknown[]) => unknown;

/** What a test may look at and set; `reset` begins a new program. */
export const world = {
  userData: "",
  lockFree: true,
  packaged: false,
  calls: [] as string[],
  lockData: undefined as unknown,
  schemes: [] as unknown[],
  windows: [] as BrowserWindow[],
  children: [] as Child[],
  handlers: new Map<string, Handler>(),
  pageListeners: new Map<string, Set<Listener>>(),
  protocolHandlers: new Map<string, (request: Request) => Response>(),
  /** By the preload, once; `reset` leaves it. */
  exposed: new Map<string, unknown>(),
  menu: [] as MenuItemConstructorOptions[],
  dialogs: [] as { kind: string; options: Record<string, unknown> }[],
  /** What the next dialogs answer, in order. */
  dialogAnswers: [] as unknown[],
  revealed: [] as string[],
  /** What the system is told of documents opened. */
  recentDocuments: [] as string[],
  /** Where files lie that are dropped on the window. */
  dropped: new Map<File, string>(),
  quit: 0,
  reset(userData: string): void {
    Object.assign(world, { userData, lockFree: true, packaged: false, lockData: undefined, quit: 0 });
    for (const list of [
      world.calls,
      world.schemes,
      world.windows,
      world.children,
      world.dialogs,
      world.dialogAnswers,
    ]) {
      list.length = 0;
    }
    for (const map of [world.handlers, world.pageListeners, world.protocolHandlers]) map.clear();
    world.menu.length = 0;
    world.revealed.length = 0;
    world.recentDocuments.length = 0;
    app.removeAllListeners();
    session.defaultSession.removeAllListeners();
    nativeTheme.themeSource = "system";
  },
};

class App extends EventEmitter {
  ready = Promise.resolve();
  get isPackaged(): boolean {
    return world.packaged;
  }
  getPath(_name: string): string {
    return world.userData;
  }
  enableSandbox(): void {
    world.calls.push("enableSandbox");
  }
  requestSingleInstanceLock(data: unknown): boolean {
    world.lockData = data;
    return world.lockFree;
  }
  addRecentDocument(path: string): void {
    world.recentDocuments.push(path);
  }
  whenReady(): Promise<void> {
    world.calls.push("whenReady");
    return this.ready;
  }
  quit(): void {
    let prevented = false;
    this.emit("will-quit", { preventDefault: () => (prevented = true) });
    if (!prevented) world.quit++;
  }
}
export const app = new App();

export class Contents extends EventEmitter {
  static next = 1;
  id = Contents.next++;
  openHandler: ((details: { url: string }) => unknown) | null = null;
  printed = 0;
  mainFrame = { url: "", parent: null };
  /** The page holds something that no file has yet. */
  holds = false;
  cleared = 0;
  navigationHistory = { clear: () => void this.cleared++ };
  setWindowOpenHandler(handler: (details: { url: string }) => unknown): void {
    this.openHandler = handler;
  }
  send(channel: string, ...words: unknown[]): void {
    const copied = structuredClone(words) as never[];
    for (const listener of world.pageListeners.get(channel) ?? []) listener({ senderId: 0 } as never, ...copied);
  }
  print(): void {
    this.printed++;
  }
}

export class BrowserWindow extends EventEmitter {
  webContents = new Contents();
  loaded: string[] = [];
  title = "";
  maximized = false;
  minimized = false;
  focused = 0;
  shown = 0;
  options: BrowserWindowConstructorOptions;
  constructor(options: BrowserWindowConstructorOptions) {
    super();
    this.options = options;
    world.windows.push(this);
    app.emit("web-contents-created", {}, this.webContents);
  }
  async loadURL(url: string): Promise<void> {
    if (this.webContents.holds) {
      let left = false;
      this.webContents.emit("will-prevent-unload", { preventDefault: () => (left = true) });
      if (!left) throw new Error("ERR_ABORTED (-3)");
      this.webContents.holds = false;
    }
    this.loaded.push(url);
    this.webContents.mainFrame.url = url;
    this.emit("ready-to-show");
  }
  setTitle(title: string): void {
    this.title = title;
  }
  show(): void {
    this.shown++;
  }
  focus(): void {
    this.focused++;
  }
  restore(): void {
    this.minimized = false;
  }
  maximize(): void {
    this.maximized = true;
  }
  isMaximized(): boolean {
    return this.maximized;
  }
  isMinimized(): boolean {
    return this.minimized;
  }
  getNormalBounds() {
    return { x: 10, y: 20, width: 1300, height: 800 };
  }
  close(): void {
    this.emit("close");
    this.emit("closed");
    app.emit("window-all-closed");
  }
}

class StandInSession extends EventEmitter {
  permissionRequest: ((contents: unknown, permission: string, answer: (allowed: boolean) => void) => void) | null =
    null;
  permissionCheck: (() => boolean) | null = null;
  devicePermission: (() => boolean) | null = null;
  beforeRequest: ((request: { url: string }, answer: (result: { cancel: boolean }) => void) => void) | null = null;
  setPermissionRequestHandler(handler: StandInSession["permissionRequest"]): void {
    this.permissionRequest = handler;
  }
  setPermissionCheckHandler(handler: StandInSession["permissionCheck"]): void {
    this.permissionCheck = handler;
  }
  setDevicePermissionHandler(handler: StandInSession["devicePermission"]): void {
    this.devicePermission = handler;
  }
  webRequest = {
    onBeforeRequest: (handler: StandInSession["beforeRequest"]): void => {
      this.beforeRequest = handler;
    },
  };
}
export const session = { defaultSession: new StandInSession() };

export const protocol = {
  registerSchemesAsPrivileged(schemes: unknown[]): void {
    world.calls.push("registerSchemesAsPrivileged");
    world.schemes.push(...schemes);
  },
  handle(scheme: string, handler: (request: Request) => Response): void {
    world.protocolHandlers.set(scheme, handler);
  },
};

export const ipcMain = {
  handle(channel: string, handler: Handler): void {
    if (world.handlers.has(channel)) throw new Error(`a second handler for ${channel}`);
    world.handlers.set(channel, handler);
  },
};

/** A message as the page's top frame sends it, or as `from` says. */
export async function invoke(channel: string, words: unknown[], from: object = {}): Promise<unknown> {
  const handler = world.handlers.get(channel);
  if (!handler) throw new Error(`No handler registered for '${channel}'`);
  const contents = world.windows.at(-1)?.webContents;
  const event = { sender: contents, senderFrame: contents?.mainFrame ?? null, ...from };
  return structuredClone(await handler(event, ...(structuredClone(words) as unknown[])));
}

export const ipcRenderer = {
  invoke: (channel: string, ...words: unknown[]): Promise<unknown> => invoke(channel, words),
  on(channel: string, listener: Listener): void {
    world.pageListeners.set(channel, (world.pageListeners.get(channel) ?? new Set()).add(listener));
  },
  removeListener(channel: string, listener: Listener): void {
    world.pageListeners.get(channel)?.delete(listener);
  },
};

export const contextBridge = {
  exposeInMainWorld(name: string, value: unknown): void {
    world.exposed.set(name, value);
  },
};

export const Menu = {
  buildFromTemplate: (template: MenuItemConstructorOptions[]) => template,
  setApplicationMenu(template: MenuItemConstructorOptions[]): void {
    world.menu.splice(0, world.menu.length, ...template);
  },
};

function answered(kind: string, words: unknown[]): Promise<unknown> {
  world.dialogs.push({ kind, options: words.at(-1) as Record<string, unknown> });
  return Promise.resolve(world.dialogAnswers.shift() ?? { canceled: true, filePaths: [], response: 0 });
}
export const dialog = {
  showOpenDialog: (...words: unknown[]) => answered("open", words),
  showSaveDialog: (...words: unknown[]) => answered("save", words),
  showMessageBoxSync(...words: unknown[]): unknown {
    world.dialogs.push({ kind: "message", options: words.at(-1) as Record<string, unknown> });
    return world.dialogAnswers.shift();
  },
  showMessageBox: (...words: unknown[]) => answered("message", words),
};

export const nativeTheme = { themeSource: "system", shouldUseDarkColors: false };
export const screen = {
  getAllDisplays: () => [{ workArea: { x: 0, y: 0, width: 1920, height: 1040 } }],
};
export const shell = {
  showItemInFolder(path: string): void {
    world.revealed.push(path);
  },
};

/** A plant process: Node with `process.parentPort` as Electron gives it. */
export class Child extends EventEmitter {
  readonly process: ChildProcess;
  readonly words: readonly string[];
  readonly ended: Promise<void>;
  constructor(words: readonly string[]) {
    super();
    this.words = words;
    this.process = fork(fileURLToPath(new URL("plant-child.ts", import.meta.url)), words, {
      execArgv: [],
      serialization: "advanced",
    });
    this.process.on("message", (message) => this.emit("message", message));
    this.process.on("exit", (code) => this.emit("exit", code ?? 1));
    this.ended = new Promise((resolve) => this.process.on("exit", () => resolve()));
    world.children.push(this);
  }
  postMessage(message: unknown): void {
    if (this.process.connected) this.process.send(message as object);
  }
  kill(): boolean {
    return this.process.kill("SIGKILL");
  }
}
export const utilityProcess = {
  fork: (_module: string, words: string[], _options: object): Child => new Child(words),
};

export const webUtils = { getPathForFile: (file: File): string => world.dropped.get(file) ?? "" };
