/** The windows that listen: each has a response held open, to which one event a line is written. */
import type { ServerResponse } from "node:http";
import type { WireEvent } from "../../core/operations/wire.ts";

/** A proxy or a laptop lid may end a stream without a word; a line now and then shows it. */
const BEAT_MS = 20_000;
/** A page that stopped reading is let go; it comes back with a new stream and learns the revision. */
const UNREAD_LIMIT = 4 * 1024 * 1024;

export class Streams {
  readonly #open = new Set<ServerResponse>();
  readonly #beat = setInterval(() => this.tell({ type: "beat" }), BEAT_MS);

  constructor() {
    this.#beat.unref();
  }

  add(response: ServerResponse, first: WireEvent): void {
    this.#open.add(response);
    response.on("close", () => this.#open.delete(response));
    response.write(line(first));
  }

  tell(event: WireEvent): void {
    for (const response of this.#open) {
      if (response.writableLength > UNREAD_LIMIT) response.destroy();
      else response.write(line(event));
    }
  }

  close(): void {
    clearInterval(this.#beat);
    for (const response of this.#open) response.end(line({ type: "closing" }));
    this.#open.clear();
  }
}

const line = (event: WireEvent): string => `${JSON.stringify(event)}\n`;
