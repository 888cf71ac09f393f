/** The way to the program from a browser window on this machine: calls over HTTP, events as lines of one long answer. */
import { z } from "zod";
import type { Reply } from "../../core/operations/dispatch.ts";
import {
  type Bridge,
  CALL_PATH,
  EVENTS_PATH,
  KEPT_PATH,
  type Kept,
  PAPER_PATH,
  STOP_PATH,
  TOKEN_HEADER,
  type WireCall,
  type WireEvent,
  wireEvent,
} from "../../core/operations/wire.ts";
import { say } from "../../core/words/say.ts";
import { browserCapabilities } from "../capabilities/browser.ts";
import { downloaded } from "./downloaded.ts";

// The content policy allows no generated code; zod must not try.
z.config({ jitless: true });

const TOKEN_KEY = "strandbook.token";
const AGAIN_FIRST_MS = 500;
const AGAIN_MOST_MS = 8_000;
/** A call whose connection broke is asked again after this, in milliseconds: when a network comes or goes, all of them break. */
const CALL_AGAIN_MS = 200;
/** A page that is left gets 64 KiB through at most (the Fetch standard), in bytes; letters may take three each. */
const ALIVE_MOST = 20_000;

/** Takes the token out of the address, so that it is neither bookmarked nor seen, and keeps it for a reload. */
export function takeToken(): string {
  const given = /^#token=([\w-]+)$/.exec(location.hash)?.[1];
  if (given) {
    sessionStorage.setItem(TOKEN_KEY, given);
    history.replaceState(null, "", `${location.pathname}#/`);
    return given;
  }
  return sessionStorage.getItem(TOKEN_KEY) ?? "";
}

/** A call that got no answer: the program was closed, or this page belongs to an earlier start. */
const UNANSWERED = {
  ok: false,
  revision: 0,
  error: {
    code: "internal",
    message: say`Strandbook doesn't answer. It was closed, or this page belongs to an earlier start of it.`,
    problems: [],
  },
} as const satisfies Reply;

export function loopbackBridge(token: string): Bridge {
  const headers = { [TOKEN_HEADER]: token };
  const post = (path: string, body: unknown, leaving = false) => {
    const text = JSON.stringify(body);
    return fetch(path, {
      method: "POST",
      headers: { ...headers, "content-type": "application/json" },
      body: text,
      keepalive: leaving && text.length < ALIVE_MOST,
    });
  };

  /** Once more where the connection broke; the program writes nothing twice (`wireCall`). */
  const twice = async <T>(ask: (again: boolean) => Promise<T>): Promise<T> => {
    try {
      return await ask(false);
    } catch {
      await new Promise((resolve) => setTimeout(resolve, CALL_AGAIN_MS));
      return ask(true);
    }
  };
  const called = async (call: WireCall, leaving?: boolean): Promise<Reply> =>
    (await post(CALL_PATH, call, leaving)).json();

  return {
    async call(call, leaving) {
      try {
        if (leaving) return await called(call, leaving);
        return await twice((again) => called(again ? { ...call, again } : call));
      } catch {
        return UNANSWERED;
      }
    },
    async stop(id) {
      try {
        return await (await post(STOP_PATH, { id })).json();
      } catch {
        return { stopped: false };
      }
    },
    async paper(asked) {
      try {
        return await downloaded(await post(PAPER_PATH, asked));
      } catch {
        return UNANSWERED;
      }
    },
    async kept() {
      try {
        const response = await twice(() => fetch(KEPT_PATH, { headers }));
        return response.ok ? ((await response.json()) as Kept) : {};
      } catch {
        return {};
      }
    },
    async keep(change) {
      try {
        // A page that is being left still gets it through.
        await post(KEPT_PATH, change, true);
      } catch {
        // The program was closed: this page keeps it as long as it stands.
      }
    },
    subscribe(listener) {
      const end = new AbortController();
      void listen(headers, listener, end.signal);
      return () => end.abort();
    },
    capabilities: browserCapabilities,
  };
}

/** Reads events until told to end; a broken connection is made again, each `hello` tells what was missed. */
async function listen(
  headers: Record<string, string>,
  listener: (event: WireEvent) => void,
  end: AbortSignal,
): Promise<void> {
  let wait = AGAIN_FIRST_MS;
  while (!end.aborted) {
    try {
      const response = await fetch(EVENTS_PATH, { headers, signal: end });
      if (!response.ok || !response.body) throw new Error(`events answered ${response.status}`);
      for await (const line of linesOf(response.body)) {
        wait = AGAIN_FIRST_MS;
        const event = wireEvent.safeParse(JSON.parse(line));
        if (event.success) listener(event.data);
      }
    } catch {
      // Nothing to do but to come again; what was asked meanwhile is told by its own call.
    }
    if (end.aborted) return;
    listener({ type: "closing" });
    await new Promise((resolve) => setTimeout(resolve, wait));
    wait = Math.min(wait * 2, AGAIN_MOST_MS);
  }
}

async function* linesOf(body: ReadableStream<Uint8Array>): AsyncGenerator<string> {
  const reader = body.pipeThrough(new TextDecoderStream() as ReadableWritablePair<string, Uint8Array>).getReader();
  let rest = "";
  for (;;) {
    const { value, done } = await reader.read();
    if (done) return;
    const lines = (rest + value).split("\n");
    rest = lines.pop() ?? "";
    for (const line of lines) if (line.trim() !== "") yield line;
  }
}
