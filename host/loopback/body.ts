/** Reads a call's body: bounded, UTF-8, JSON. */
import type { IncomingMessage } from "node:http";
import { CALL_LIMIT } from "../../core/operations/wire.ts";
import { say } from "../../core/words/say.ts";
import { type Turned, tooLarge } from "./guard.ts";

export type Body = { readonly value: unknown } | { readonly turned: Turned };

export async function readBody(request: IncomingMessage): Promise<Body> {
  const pieces: Buffer[] = [];
  let bytes = 0;
  for await (const piece of request) {
    bytes += piece.length;
    // Read on without keeping: an answer sent into a connection still being written to is seldom seen.
    if (bytes <= CALL_LIMIT) pieces.push(piece);
  }
  if (bytes > CALL_LIMIT) return { turned: tooLarge() };
  try {
    const text = new TextDecoder("utf-8", { fatal: true }).decode(Buffer.concat(pieces));
    return { value: JSON.parse(text) };
  } catch {
    return { turned: { status: 400, sentence: say`The body of this call is not JSON in UTF-8.` } };
  }
}
