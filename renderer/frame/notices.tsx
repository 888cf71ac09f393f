/** What was done, said once above the foot; what was refused stays until it was read. */
import { type FocusEvent, useLayoutEffect, useRef, useSyncExternalStore } from "react";
import type { Failure } from "../../core/result.ts";
import { say } from "../../core/words/say.ts";
import { unbroken } from "../controls/unbroken.tsx";

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

/** What a box of another height pushed out of sight is scrolled into it again. */
function keepInSight(higher: number): void {
  const { activeElement } = document;
  if (higher <= 0 || !(activeElement instanceof HTMLElement)) return;
  const { bottom } = activeElement.getBoundingClientRect();
  for (let around = activeElement.parentElement; around; around = around.parentElement) {
    if (around.scrollHeight <= around.clientHeight) continue;
    const hidden = bottom - around.getBoundingClientRect().bottom;
    // Whoever scrolled on from where the focus is isn't taken back.
    if (hidden > 0 && hidden <= higher) around.scrollTop += hidden;
    return;
  }
}

export function Notices() {
  const shown = useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => notices,
  );
  const box = useRef<HTMLElement>(null);
  const height = useRef(0);
  const inside = useRef(false);
  const from = useRef<HTMLElement | null>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the box is as high as what is shown
  useLayoutEffect(() => {
    const now = box.current?.offsetHeight ?? 0;
    keepInSight(now - height.current);
    height.current = now;
    // The notice took the focus with it: it goes back to where it came from.
    if (inside.current && !box.current?.contains(document.activeElement)) {
      inside.current = false;
      from.current?.focus({ preventScroll: true });
    }
  }, [shown]);
  const onFocus = ({ relatedTarget }: FocusEvent) => {
    inside.current = true;
    if (relatedTarget instanceof HTMLElement && !box.current?.contains(relatedTarget)) from.current = relatedTarget;
  };
  const onBlur = ({ relatedTarget }: FocusEvent) => {
    if (relatedTarget && !box.current?.contains(relatedTarget)) inside.current = false;
  };
  return (
    <section
      ref={box}
      className="notices"
      aria-label={say`Notices`}
      onFocus={onFocus}
      onBlur={onBlur}
      {...(shown.length > 0 ? { "data-region": "notices", tabIndex: -1 } : {})}
    >
      <div role="status" aria-live="polite">
        {shown.map((notice) => (
          <div key={notice.id} className="notice">
            <div>
              {notice.refused ? <b>{unbroken(notice.words)}</b> : unbroken(notice.words)}
              {notice.problems.map((problem) => (
                <p key={problem} className="soft">
                  {unbroken(problem)}
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
    </section>
  );
}
