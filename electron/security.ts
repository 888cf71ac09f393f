/** What the window's page may do: nothing but show our own files and ask through the preload. Pure where it can be. */
import type { BrowserWindowConstructorOptions, Session, WebContents, WebPreferences } from "electron";

export const SCHEME = "strandbook";
export const PAGE_HOST = "window";
export const PAGE_URL = `${SCHEME}://${PAGE_HOST}/`;

/** Declared before Electron is ready; without `standard` there is no origin, without `secure` no clipboard. */
export const PRIVILEGES = {
  scheme: SCHEME,
  privileges: { standard: true, secure: true, supportFetchAPI: true, codeCache: true },
};

/** Each is Electron's default today and is said all the same: a default may change, this must not. */
export function pagePreferences(preload: string): WebPreferences {
  return {
    preload,
    contextIsolation: true,
    sandbox: true,
    nodeIntegration: false,
    nodeIntegrationInWorker: false,
    nodeIntegrationInSubFrames: false,
    webSecurity: true,
    allowRunningInsecureContent: false,
    experimentalFeatures: false,
    webviewTag: false,
    navigateOnDragDrop: false,
    // The spelling dictionary would be fetched from the network.
    spellcheck: false,
  };
}

export function windowOptions(
  preload: string,
  bounds: Pick<BrowserWindowConstructorOptions, "x" | "y" | "width" | "height">,
  ground: string,
): BrowserWindowConstructorOptions {
  return {
    ...bounds,
    minWidth: 1024,
    minHeight: 640,
    show: false,
    title: "Strandbook",
    backgroundColor: ground,
    webPreferences: pagePreferences(preload),
  };
}

/** Whether an address is our page's, by its parts: a prefix could be imitated. */
export function isOurPage(address: string): boolean {
  const url = URL.parse(address);
  return (
    url !== null && url.protocol === `${SCHEME}:` && url.host === PAGE_HOST && url.username === "" && url.port === ""
  );
}

/** What the page itself may load: our own files, and pictures or downloads it made itself. */
export function mayLoad(address: string): boolean {
  if (isOurPage(address)) return true;
  const url = URL.parse(address);
  if (url === null) return false;
  return url.protocol === "data:" || (url.protocol === "blob:" && isOurPage(url.pathname));
}

type Guarded = Pick<
  Session,
  "setPermissionRequestHandler" | "setPermissionCheckHandler" | "setDevicePermissionHandler" | "webRequest" | "on"
>;

/** Denies every permission and device, and all that isn't ours to load; a download only of what the page made. */
export function lockSession(session: Guarded): void {
  session.setPermissionRequestHandler((_contents, _permission, answer) => answer(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.webRequest.onBeforeRequest((request, answer) => answer({ cancel: !mayLoad(request.url) }));
  session.on("will-download", (event, item) => {
    if (!item.getURL().startsWith("blob:") || !mayLoad(item.getURL())) event.preventDefault();
  });
}

/** Holds the page where it is: no navigation, no further windows, no embedded pages. */
export function lockContents(contents: Pick<WebContents, "on" | "setWindowOpenHandler">): void {
  const prevent = (event: { preventDefault(): void }) => event.preventDefault();
  contents.on("will-navigate", prevent);
  contents.on("will-frame-navigate", prevent);
  contents.on("will-redirect", prevent);
  contents.on("will-attach-webview", prevent);
  contents.setWindowOpenHandler(() => ({ action: "deny" }));
}
