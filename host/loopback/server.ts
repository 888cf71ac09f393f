/**
 * The loopback host: the same window and the same operations for a browser on this machine. It binds 127.0.0.1 only; a
 * random token for each start stands in the address's fragment, which browsers don't send, and comes back as a header.
 */
import { randomBytes } from "node:crypto";
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import type { Session } from "../../core/operations/dispatch.ts";
import {
  CALL_PATH,
  EVENTS_PATH,
  KEPT_PATH,
  MISSING_HEADER,
  PAGES_HEADER,
  PAPER_PATH,
  STOP_PATH,
} from "../../core/operations/wire.ts";
import { Refusal } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import type { KeptFile } from "../machine/kept.ts";
import { Calls, refused } from "../window/calls.ts";
import { GUARD_HEADERS, type Pages } from "../window/pages.ts";
import type { Press, Pressed } from "../window/paper.ts";
import { readBody } from "./body.ts";
import { type Turned, wrongBody, wrongCaller, wrongHost, wrongMethod } from "./guard.ts";
import { Streams } from "./streams.ts";

/**
 * A connection that nothing uses is closed by the browser, never by the program while a call is just being sent over it.
 * Browsers close theirs after two to five minutes (common practice, no source); in milliseconds.
 */
const KEEP_ALIVE_MS = 15 * 60_000;

export interface Loopback {
  /** To open in a browser; carries the token in its fragment. */
  readonly address: string;
  readonly port: number;
  readonly token: string;
  /** Stops running calls, tells the windows, and lets go of the port. The session stays open. */
  close(): Promise<void>;
}

export interface LoopbackParts {
  readonly session: Session;
  readonly pages: Pages;
  /** Writes documents to PDF. */
  readonly press: Press;
  /** What this machine keeps for its user. */
  readonly kept: KeptFile;
  /** Told of each defect in serving itself. */
  readonly onDefect?: (error: unknown) => void;
}

export async function startLoopback({ session, pages, press, kept, onDefect }: LoopbackParts): Promise<Loopback> {
  const token = randomBytes(24).toString("base64url");
  const streams = new Streams();
  const calls = new Calls(session, (event) => streams.tell(event), press);
  let port = 0;

  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const head = { method: request.method ?? "", headers: request.headers };
    const path = (request.url ?? "").split("?")[0] ?? "";
    const turn = (turned: Turned) => turnAway(request, response, turned);

    const host = wrongHost(head, port);
    if (host) return turn(host);

    const page = pages.get(path);
    if (page) {
      const method = wrongMethod(head, "GET");
      if (method) return turn(method);
      response.writeHead(200, { ...GUARD_HEADERS, "content-type": page.type, "content-length": page.body.length });
      response.end(page.body);
      return;
    }

    if (path === EVENTS_PATH) {
      const wrong = wrongMethod(head, "GET") ?? wrongCaller(head, port, token);
      if (wrong) return turn(wrong);
      const hello = await calls.hello();
      response.writeHead(200, { ...GUARD_HEADERS, "content-type": "application/x-ndjson; charset=utf-8" });
      streams.add(response, hello);
      return;
    }

    if (path === KEPT_PATH && head.method === "GET") {
      const wrong = wrongCaller(head, port, token);
      return wrong ? turn(wrong) : sendJson(response, 200, await kept.read());
    }

    if (path === KEPT_PATH || path === CALL_PATH || path === STOP_PATH || path === PAPER_PATH) {
      const wrong = wrongMethod(head, "POST") ?? wrongCaller(head, port, token) ?? wrongBody(head);
      if (wrong) return turn(wrong);
      const body = await readBody(request);
      if ("turned" in body) return turn(body.turned);
      if (path === KEPT_PATH) {
        const done = await keep(body.value);
        return sendJson(response, done.ok ? 200 : 400, done);
      }
      if (path === STOP_PATH) {
        const stopped = calls.stop(body.value);
        return sendJson(response, "stopped" in stopped ? 200 : 400, stopped);
      }
      const gone = new AbortController();
      response.on("close", () => gone.abort());
      if (path === PAPER_PATH) {
        const paper = await calls.paper(body.value, gone.signal);
        return paper.ok ? sendPdf(response, paper.value) : sendJson(response, 200, paper);
      }
      return sendJson(response, 200, await calls.answer(body.value, gone.signal));
    }

    return turn({ status: 404, sentence: say`There is nothing here.` });
  };

  const keep = async (raw: unknown) => {
    try {
      streams.tell({ type: "kept", ...(await kept.keep(raw)) });
      return { ok: true } as const;
    } catch (error) {
      if (error instanceof Refusal) return refused(error.failure);
      throw error;
    }
  };

  const timeouts = { headersTimeout: 10_000, requestTimeout: 120_000, keepAliveTimeout: KEEP_ALIVE_MS };
  const server = createServer(timeouts, (request, response) => {
    answer(request, response).catch((error: unknown) => {
      // The window went away while it was being answered; there is nobody left to tell.
      if (request.destroyed && !request.complete) return response.destroy();
      onDefect?.(error);
      if (response.headersSent) return response.destroy();
      turnAway(
        request,
        response,
        { status: 500, sentence: say`A defect of the program stopped this call.` },
        "internal",
      );
    });
  });
  server.on("clientError", (_error, socket) => {
    if (socket.writable) socket.end("HTTP/1.1 400 Bad Request\r\nConnection: close\r\nContent-Length: 0\r\n\r\n");
  });

  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen({ host: "127.0.0.1", port: 0, exclusive: true }, resolve);
  });
  port = (server.address() as AddressInfo).port;

  return {
    port,
    token,
    address: `http://127.0.0.1:${port}/#token=${token}`,
    async close() {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      await calls.close();
      streams.close();
      server.closeIdleConnections();
      // What is still open a moment later is a browser that keeps its connection.
      const last = setTimeout(() => server.closeAllConnections(), 500);
      await closed;
      clearTimeout(last);
    },
  };
}

function sendJson(
  response: ServerResponse,
  status: number,
  value: unknown,
  headers: Record<string, string> = {},
): void {
  const body = Buffer.from(JSON.stringify(value));
  response.writeHead(status, {
    ...GUARD_HEADERS,
    ...headers,
    "content-type": "application/json; charset=utf-8",
    "content-length": body.length,
  });
  response.end(body);
}

function sendPdf(response: ServerResponse, { name, bytes, pages, missing }: Pressed): void {
  response.writeHead(200, {
    ...GUARD_HEADERS,
    "content-type": "application/pdf",
    "content-length": bytes.length,
    // RFC 6266: the plain name for who can't read the other.
    "content-disposition": `attachment; filename="${name.replace(/[^\x20-\x7e]/g, "_")}"; filename*=UTF-8''${encodeURIComponent(name)}`,
    [PAGES_HEADER]: String(pages),
    [MISSING_HEADER]: missing.map(encodeURIComponent).join(" "),
  });
  response.end(bytes);
}

function turnAway(
  request: IncomingMessage,
  response: ServerResponse,
  turned: Turned,
  code: "bad_input" | "internal" = "bad_input",
): void {
  // The rest of an unread body is let run out, so that the answer is seen; the connection isn't used again.
  request.resume();
  const headers = { ...turned.headers, connection: "close" };
  sendJson(response, turned.status, refused({ code, message: turned.sentence, problems: [] }), headers);
}
