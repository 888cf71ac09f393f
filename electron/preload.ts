/** The only bridge between the page and the program: each function is closed over one fixed channel. */
import { contextBridge, type IpcRendererEvent, ipcRenderer, webUtils } from "electron";
import type { Bridge, WireEvent } from "../core/operations/wire.ts";
import { CHANNELS, EVENT_CHANNEL } from "./channels.ts";

const bridge: Bridge = {
  call: async (call) => JSON.parse(await ipcRenderer.invoke(CHANNELS.call, call)),
  stop: (id) => ipcRenderer.invoke(CHANNELS.stop, { id }),
  paper: (asked) => ipcRenderer.invoke(CHANNELS.paper, asked),
  kept: () => ipcRenderer.invoke(CHANNELS.kept),
  keep: (change) => ipcRenderer.invoke(CHANNELS.keep, change),
  subscribe(listener) {
    // Electron's own event object carries a way to send anywhere; it stays here.
    const hear = (_event: IpcRendererEvent, event: WireEvent) => listener(event);
    ipcRenderer.on(EVENT_CHANNEL, hear);
    return () => void ipcRenderer.removeListener(EVENT_CHANNEL, hear);
  },
  capabilities: {
    chooseFile: (what) => ipcRenderer.invoke(CHANNELS.chooseFile, what),
    chooseFolder: (what) => ipcRenderer.invoke(CHANNELS.chooseFolder, what),
    reveal: (path) => ipcRenderer.invoke(CHANNELS.reveal, path),
    print: () => ipcRenderer.invoke(CHANNELS.print),
    theme: (choice) => ipcRenderer.invoke(CHANNELS.theme, choice),
    openPlant: (path) => ipcRenderer.invoke(CHANNELS.openPlant, path),
    // Where a dropped file lies is known here alone.
    pathOf: (file) => webUtils.getPathForFile(file) || null,
    openDropped: (file) => ipcRenderer.invoke(CHANNELS.openPlant, webUtils.getPathForFile(file)),
  },
};

contextBridge.exposeInMainWorld("strandbook", bridge);
