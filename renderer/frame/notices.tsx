/** What was done, said once above the foot; what was refused stays until it was read. */
import { useSyncExternalStore } from "react";
import type { Failure } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";

interface Notice {
  readonly id: number;
  readonly words: string;
  readonly problems: readonly string[];
  readonly refused: boolean;
}

const DONE_MS = 6000;
const listeners = new Set<() => void>();
let notices: readonly Notice[] = [];
let count = 0;

function set(next: readonly Notice[]): void {
  notices = next;
  for (const listener of listeners) listener();
}

const dismiss = (id: number): void => set(notices.filter((one) => one.id !== id));

function add(notice: Omit<Notice, "id">): number {
  const id = ++count;
  set([...notices.filter((one) => !one.refused || one.words !== notice.words), { ...notice, id }].slice(-4));
  return id;
}

/** Says what was done; it goes by itself. */
export function notify(words: string): void {
  const id = add({ words, problems: [], refused: false });
  setTimeout(() => dismiss(id), DONE_MS);
}

/** Says what is to be known; it stays until it was read. */
export function sayToStay(words: string): void {
  add({ words, problems: [], refused: false });
}

/** Says what was refused where no part of the window shows it in place. */
export function sayRefused({ message, problems }: Failure): void {
  add({
    words: message,
    problems: problems.map(({ record, field, reason }) => [record, field, reason].filter(Boolean).join(" ")),
    refused: true,
  });
}

export function Notices() {
  const shown = useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => notices,
  );
  return (
    <div className="notices" role="status" aria-live="polite">
      {shown.map((notice) => (
        <div key={notice.id} className="notice">
          <div>
            {notice.refused ? <b>{notice.words}</b> : notice.words}
            {notice.problems.map((problem) => (
              <p key={problem} className="soft">
                {problem}
              </p>
            ))}
          </div>
          <button
            type="button"
            className="plain"
            aria-label={say`Close this notice`}
            onClick={() => dismiss(notice.id)}
          >
            {say`Close`}
          </button>
        </div>
      ))}
    </div>
  );
}
