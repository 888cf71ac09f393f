/** Who may ask the loopback host: decided from the request's head alone, before any of its body is read. */
import { createHash, timingSafeEqual } from "node:crypto";
import type { IncomingHttpHeaders } from "node:http";
import { CALL_LIMIT, TOKEN_HEADER } from "../../core/operations/wire.ts";
import { say } from "../../core/words/say.ts";

export interface Head {
  readonly method: string;
  readonly headers: IncomingHttpHeaders;
}

export interface Turned {
  readonly status: number;
  readonly sentence: string;
  readonly headers?: Readonly<Record<string, string>>;
}

/** Another site's page may point here by a name of its own (rebinding), so the name asked for must be exactly ours. */
export function wrongHost(head: Head, port: number): Turned | null {
  if (head.headers.host === `127.0.0.1:${port}`) return null;
  return { status: 421, sentence: say`Strandbook answers at 127.0.0.1:${port} only.` };
}

export function wrongMethod(head: Head, allowed: "GET" | "POST"): Turned | null {
  if (head.method === allowed) return null;
  return { status: 405, sentence: say`Only ${allowed} is answered here.`, headers: { allow: allowed } };
}

/** For all that touches the plant: from our own page, with this start's token. */
export function wrongCaller(head: Head, port: number, token: string): Turned | null {
  const { origin, "sec-fetch-site": site } = head.headers;
  const ours = `http://127.0.0.1:${port}`;
  // A page always says where it posts from; for a GET from its own origin it stays silent.
  if (origin === undefined ? head.method !== "GET" : origin !== ours) {
    return { status: 403, sentence: say`Only Strandbook's own page may ask this.` };
  }
  if (site !== undefined && site !== "same-origin") {
    return { status: 403, sentence: say`Only Strandbook's own page may ask this.` };
  }
  const given = head.headers[TOKEN_HEADER];
  if (typeof given !== "string" || !same(given, token)) {
    return {
      status: 401,
      sentence: say`This page belongs to an earlier start of Strandbook. Open the address that was printed last.`,
    };
  }
  return null;
}

export function wrongBody(head: Head): Turned | null {
  const { "content-type": type = "", "content-encoding": encoding, "content-length": length } = head.headers;
  if (!/^application\/json(\s*;\s*charset=utf-8)?$/i.test(type.trim()) || (encoding && encoding !== "identity")) {
    return { status: 415, sentence: say`A call is sent as application/json, in UTF-8, not compressed.` };
  }
  if (length !== undefined && Number(length) > CALL_LIMIT) return tooLarge();
  return null;
}

export function tooLarge(): Turned {
  return { status: 413, sentence: say`A call may have ${CALL_LIMIT / 1024 / 1024} MB; send less at once.` };
}

/** Compares in a time that doesn't tell how much was right. */
function same(given: string, token: string): boolean {
  const digest = (text: string) => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(given), digest(token));
}
