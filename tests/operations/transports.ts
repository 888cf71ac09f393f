/** The ways in, each over a plant file of its own: the session itself, the loopback host, Electron's channel, the command line. */
import { EventEmitter } from "node:events";
import { dirname, join } from "node:path";
import type { IpcMain } from "electron";
import { onTestFinished } from "vitest";
import { type Bridge, TOKEN_HEADER } from "../../core/operations/wire.ts";
import type { Failure } from "../../core/result.ts";
import { answerPage } from "../../electron/answers.ts";
import { type Child, PlantClient } from "../../electron/plant-client.ts";
import { servePlant } from "../../electron/plant-server.ts";
import { openApplication } from "../../host/application.ts";
import { startLoopback } from "../../host/loopback/server.ts";
import { KeptFile } from "../../host/machine/kept.ts";
import { press } from "../../host/paper/press.ts";
import { cli } from "../cli/support.ts";
import { BrowserWindow, ipcMain, world } from "../electron/stand-in.ts";
import { loadBridge } from "../electron/support.ts";

export type Outcome = { readonly value: unknown } | { readonly error: Failure };

export interface WayIn {
  call(name: string, input: unknown, rehearse?: boolean): Promise<Outcome>;
  close(): Promise<void>;
}

export const AUTHOR = "Test Person";
const occasion = { author: AUTHOR };

type Reply = { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly error: Failure };
const outcome = (reply: Reply): Outcome => (reply.ok ? { value: reply.value } : { error: reply.error });

async function direct(file: string): Promise<WayIn> {
  const application = await openApplication(file, { backupAtClose: false });
  return {
    call: async (name, input, rehearse = false) =>
      outcome(await application.session.dispatch({ name, input, occasion, rehearse })),
    close: () => application.close(),
  };
}

async function loopback(file: string): Promise<WayIn> {
  const application = await openApplication(file, { backupAtClose: false });
  const pages = new Map([["/", { type: "text/html", body: Buffer.from("<!doctype html>") }]]);
  const host = await startLoopback({
    session: application.session,
    pages,
    press,
    kept: new KeptFile(join(dirname(file), "preferences.json")),
  });
  const origin = `http://127.0.0.1:${host.port}`;
  let count = 0;
  return {
    async call(name, input, rehearse = false) {
      const response = await fetch(`${origin}/call`, {
        method: "POST",
        headers: { origin, "content-type": "application/json", [TOKEN_HEADER]: host.token },
        body: JSON.stringify({ id: `call-${++count}`, name, input, occasion, rehearse }),
      });
      return outcome((await response.json()) as Reply);
    },
    async close() {
      await host.close();
      await application.close();
    },
  };
}

/** Both ends of the talk between main and the plant's process, in this process; messages are copied as between processes. */
class Pair {
  readonly child = new EventEmitter();
  readonly port = new EventEmitter();
  readonly asChild: Child = Object.assign(this.child, {
    postMessage: (message: unknown) => {
      const data = structuredClone(message);
      setImmediate(() => this.port.emit("message", { data }));
    },
    kill: () => true,
  });
  readonly asPort = Object.assign(this.port, {
    postMessage: (message: unknown) => {
      const copy = structuredClone(message);
      setImmediate(() => this.child.emit("message", copy));
    },
  });
}

async function electron(file: string): Promise<WayIn> {
  const bridge: Bridge = await loadBridge();
  world.reset(world.userData);
  const window = new BrowserWindow({});
  window.webContents.mainFrame.url = "strandbook://window/";
  const pair = new Pair();
  const opening = PlantClient.open(pair.asChild, { event: () => {}, died: () => {} });
  await servePlant({
    port: pair.asPort,
    file,
    create: false,
    note: () => {},
    exit: (code) => setImmediate(() => pair.child.emit("exit", code)),
  });
  const opened = await opening;
  if (!opened.ok) throw new Error(opened.message);
  const { plant } = opened;
  const none = () => Promise.reject(new Error("not asked for here"));
  answerPage(ipcMain as unknown as IpcMain, () => window.webContents, {
    call: (call) => plant.call(call),
    stop: (id) => plant.stop({ id }),
    paper: none,
    kept: none,
    keep: none,
    chooseFile: none,
    chooseFolder: none,
    reveal: none,
    print: none,
    theme: none,
    openPlant: none,
  });
  let count = 0;
  return {
    call: async (name, input, rehearse = false) =>
      outcome(await bridge.call({ id: `call-${++count}`, name, input, occasion, rehearse })),
    close: () => plant.close(),
  };
}

async function commandLine(file: string): Promise<WayIn> {
  return {
    async call(name, input, rehearse = false) {
      const words = [
        "run",
        file,
        name,
        "--input",
        "-",
        "--json",
        "--author",
        AUTHOR,
        ...(rehearse ? ["--rehearse"] : []),
      ];
      const ran = await cli(words, { input: JSON.stringify(input) });
      const printed = ran.json<{ error?: Failure }>();
      if (ran.code === 0) return { value: printed };
      if (!printed.error) throw new Error(`${name} ended with ${ran.code}: ${ran.notes}`);
      return { error: printed.error };
    },
    close: async () => {},
  };
}

export const WAYS: Readonly<Record<string, (file: string) => Promise<WayIn>>> = {
  "in process": direct,
  "through the loopback host": loopback,
  "through Electron's channel": electron,
  "through the command line": commandLine,
};

/** Opens a way in that is closed when the test ends. */
export async function opened(way: string, file: string): Promise<WayIn> {
  const open = WAYS[way];
  if (!open) throw new Error(`there is no way ${way}`);
  const wayIn = await open(file);
  onTestFinished(() => wayIn.close());
  return wayIn;
}
