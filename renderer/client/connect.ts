/** Chooses the way to the program: the desktop shell's bridge where there is one, otherwise the loopback host. */
import type { Bridge } from "../../core/operations/wire.ts";
import { Client } from "./client.ts";
import { loopbackBridge, takeToken } from "./loopback.ts";

declare global {
  interface Window {
    readonly strandbook?: Bridge;
  }
}

export const connect = (): Client => new Client(window.strandbook ?? loopbackBridge(takeToken()));
