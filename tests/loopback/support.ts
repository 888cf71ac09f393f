/** A loopback host over a real plant, and a caller that can say anything a browser or a stranger could. */

import { request as httpRequest } from "node:http";
import { join } from "node:path";
import { setImmediate as pause } from "node:timers/promises";
import { onTestFinished } from "vitest";
import { z } from "zod";
import { defineLong, defineRead, defineWrite } from "../../core/operations/define.ts";
import { type AnyOperation, createSession } from "../../core/operations/dispatch.ts";
import { TOKEN_HEADER, type WireEvent } from "../../core/operations/wire.ts";
import { refuse } from "../../core/result.ts";
import { machineClock } from "../../host/clock.ts";
import { folders } from "../../host/folders.ts";
import { type Loopback, startLoopback } from "../../host/loopback/server.ts";
import { KeptFile } from "../../host/machine/kept.ts";
import { press } from "../../host/paper/press.ts";
import type { Pages } from "../../host/window/pages.ts";
import { newPlant } from "../support/plant.ts";

export const PAGES: Pages = new Map([
  ["/", { type: "text/html; charset=utf-8", body: Buffer.from("<!doctype html><title>Strandbook</title>") }],
  ["/assets/window.js", { type: "text/javascript; charset=utf-8", body: Buffer.from("export {};") }],
]);

/** Operations that do to a transport what real ones may: answer, refuse, break, take long, write. */
export const PROBES: readonly AnyOperation[] = [
  defineRead({
    name: "probe.echo",
    help: "Answers what it is given.",
    input: z.strictObject({ what: z.string() }),
    run: async (_context, { what }) => ({ what }),
  }),
  defineRead({
    name: "probe.refuse",
    help: "Refuses.",
    input: z.strictObject({}),
    run: async () =>
      refuse("not_found", "There is no cable F-999.", [
        { row: 2, record: "F-999", field: "cable", reason: "is unknown" },
      ]),
  }),
  defineRead({
    name: "probe.break",
    help: "Has a defect.",
    input: z.strictObject({}),
    run: async () => {
      throw new Error("secret inner words");
    },
  }),
  defineLong({
    name: "probe.count",
    help: "Counts until it is stopped.",
    writes: false,
    input: z.strictObject({ to: z.number() }),
    run: async (context, { to }) => {
      for (let done = 0; done <= to; done++) await context.progress("counting", done, to);
      return { counted: to };
    },
  }),
  defineWrite({
    name: "probe.note",
    help: "Writes the plant's notes.",
    input: z.strictObject({ notes: z.string() }),
    plan: async (_context, { notes }) => ({
      summary: "Note something",
      changes: [{ op: "update", kind: "plant", id: 1, values: { notes } }],
      answer: null,
    }),
  }),
];

/** What came, as far as a test looks into it. */
export interface Json {
  readonly ok: boolean;
  readonly value: unknown;
  readonly revision: number;
  readonly error: { readonly code: string; readonly message: string; readonly problems: readonly unknown[] };
}

export interface Answer {
  readonly status: number;
  readonly headers: Record<string, string | string[] | undefined>;
  readonly text: string;
  readonly json: Json;
}

export interface Ask {
  readonly method?: string;
  readonly path?: string;
  readonly headers?: Record<string, string | undefined>;
  readonly body?: string | Buffer;
}

export interface Host extends Loopback {
  readonly defects: unknown[];
  /** A request just as given, with nothing added but what HTTP needs. */
  raw(ask: Ask): Promise<Answer>;
  /** A call as the page makes it, changed by `ask`. */
  call(body: unknown, ask?: Ask): Promise<Answer>;
  events(): Promise<Events>;
}

export interface HostOptions {
  readonly operations?: readonly AnyOperation[];
  /** The file of preferences; left out, one of its own. */
  readonly kept?: string;
}

export async function startHost({ operations = PROBES, kept }: HostOptions = {}): Promise<Host> {
  const plant = await newPlant();
  const defects: unknown[] = [];
  const session = createSession({
    store: plant.store,
    folders,
    file: plant.application.file,
    others: { open: () => Promise.reject(new Error("not asked for here")) },
    lettering: () => Promise.reject(new Error("not asked for here")),
    clock: machineClock,
    pause,
    loadGlass: () => Promise.reject(new Error("not asked for here")),
    operations,
    onDefect: (_name, error) => defects.push(error),
  });
  const loopback = await startLoopback({
    session,
    pages: PAGES,
    press,
    kept: new KeptFile(kept ?? join(plant.folder, "preferences.json")),
    onDefect: (error) => defects.push(error),
  });
  onTestFinished(() => loopback.close());
  const { port, token } = loopback;
  const raw = ({ method = "GET", path = "/", headers = {}, body }: Ask): Promise<Answer> =>
    new Promise((resolve, reject) => {
      const chunked = "transfer-encoding" in headers;
      const length = body === undefined || chunked ? {} : { "content-length": String(Buffer.byteLength(body)) };
      const given = Object.entries({ host: `127.0.0.1:${port}`, ...length, ...headers }).filter(
        ([, value]) => value !== undefined,
      );
      const request = httpRequest({
        host: "127.0.0.1",
        port,
        method,
        path,
        headers: Object.fromEntries(given) as Record<string, string>,
        setHost: false,
      });
      request.on("error", reject);
      request.on("response", async (response) => {
        const pieces: Buffer[] = [];
        for await (const piece of response) pieces.push(piece);
        const text = Buffer.concat(pieces).toString("utf8");
        const isJson = response.headers["content-type"]?.startsWith("application/json");
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          text,
          json: isJson && text !== "" ? JSON.parse(text) : (null as unknown as Json),
        });
      });
      request.end(body);
    });
  const call: Host["call"] = (body, ask = {}) =>
    raw({
      method: "POST",
      path: "/call",
      body: typeof body === "string" ? body : JSON.stringify(body),
      ...ask,
      headers: {
        origin: `http://127.0.0.1:${port}`,
        "content-type": "application/json",
        [TOKEN_HEADER]: token,
        ...ask.headers,
      },
    });
  return { ...loopback, defects, raw, call, events: () => listen(port, token) };
}

export interface Events {
  readonly heard: WireEvent[];
  /** The first event of a type, now or later. */
  next<T extends WireEvent["type"]>(type: T): Promise<Extract<WireEvent, { type: T }>>;
  readonly ended: Promise<void>;
}

async function listen(port: number, token: string): Promise<Events> {
  const stop = new AbortController();
  onTestFinished(() => stop.abort());
  const response = await fetch(`http://127.0.0.1:${port}/events`, {
    headers: { [TOKEN_HEADER]: token },
    signal: stop.signal,
  });
  const heard: WireEvent[] = [];
  const waiting: (() => void)[] = [];
  const ended = (async () => {
    let rest = "";
    const decoder = new TextDecoder();
    for await (const piece of response.body as unknown as AsyncIterable<Uint8Array>) {
      rest += decoder.decode(piece, { stream: true });
      const lines = rest.split("\n");
      rest = lines.pop() ?? "";
      for (const line of lines) heard.push(JSON.parse(line));
      for (const wake of waiting.splice(0)) wake();
    }
  })().catch(() => {});
  return {
    heard,
    ended,
    async next(type) {
      for (;;) {
        const found = heard.find((event) => event.type === type);
        if (found) return found as never;
        await new Promise<void>((resolve) => waiting.push(resolve));
      }
    },
  };
}
