/** Makes the backups of one open plant: when asked, at intervals while there are changes, and at closing after changes. */
import type { Clock } from "../core/ports.ts";
import { makeBackup, type Undisturbed } from "./backup.ts";
import type { Connection } from "./sqlite-connection.ts";

type Occasion = "interval" | "close" | "asked";

export class BackupKeeper {
  readonly #connection: Connection;
  readonly #clock: Clock;
  readonly #undisturbed: Undisturbed;
  /** Whether something was written since the last backup of this opening. */
  #changed = false;
  #last: Promise<void> = Promise.resolve();
  #timer: NodeJS.Timeout | null = null;

  constructor(connection: Connection, clock: Clock, undisturbed: Undisturbed) {
    this.#connection = connection;
    this.#clock = clock;
    this.#undisturbed = undisturbed;
  }

  noteChange(): void {
    this.#changed = true;
  }

  /** One after the other: two at once would take the same name. */
  make(occasion: Occasion): Promise<string> {
    const made = this.#last.then(() => this.#make(occasion));
    this.#last = made.then(
      () => {},
      () => {},
    );
    return made;
  }

  /** `started` is given each backup that the interval starts. */
  every(minutes: number, started: (backup: Promise<string>) => void): void {
    this.#timer = setInterval(() => {
      if (this.#changed) started(this.make("interval"));
    }, minutes * 60_000).unref();
  }

  stop(): void {
    if (this.#timer) clearInterval(this.#timer);
  }

  async atClosing(): Promise<void> {
    if (this.#changed) await this.make("close");
  }

  async #make(occasion: Occasion): Promise<string> {
    this.#changed = false;
    try {
      return await makeBackup(this.#connection, occasion, this.#clock.now(), this.#undisturbed);
    } catch (error) {
      this.#changed = true;
      throw error;
    }
  }
}
