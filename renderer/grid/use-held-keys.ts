/**
 * Keys pressed while the table still reads the row they are meant for: they are held, in their order, and given to it once
 * it is there. Whoever types faster than a busy machine reads loses none of it.
 */
import { type KeyboardEvent, type RefObject, useEffect, useRef } from "react";

type Held = Pick<KeyboardEvent, "key" | "ctrlKey" | "metaKey" | "shiftKey" | "altKey">;

export interface HeldKeys {
  /** Some are held: what is pressed now comes after them. */
  readonly any: () => boolean;
  readonly hold: (event: KeyboardEvent) => void;
}

export interface HeldKeysOptions {
  readonly view: RefObject<HTMLDivElement | null>;
  /** The row is read, and its cell takes keys. */
  readonly ready: () => boolean;
  /** It will not be: why what is held can't be given to it, or null. */
  readonly never: () => string | null;
  readonly say: (words: string) => void;
}

const drawn = (): Promise<void> => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));

/** As if it were pressed now. */
function give(press: Held, to: Element): void {
  const typed = to instanceof HTMLInputElement || to instanceof HTMLTextAreaElement;
  const plain = !press.ctrlKey && !press.metaKey && !press.altKey;
  // The browser's own doing, which an event made here doesn't set off.
  if (typed && plain && [...press.key].length === 1) document.execCommand("insertText", false, press.key);
  else if (typed && plain && press.key === "Backspace") document.execCommand("delete");
  else {
    const { key, ctrlKey, metaKey, shiftKey, altKey } = press;
    to.dispatchEvent(
      new window.KeyboardEvent("keydown", { key, ctrlKey, metaKey, shiftKey, altKey, bubbles: true, cancelable: true }),
    );
  }
}

export function useHeldKeys(options: HeldKeysOptions): HeldKeys {
  const now = useRef(options);
  now.current = options;
  const held = useRef<Held[]>([]);
  const giving = useRef(false);
  useEffect(() => {
    const all = held.current;
    const giveAll = async (): Promise<void> => {
      giving.current = true;
      while (all.length > 0 && now.current.ready()) {
        const to = document.activeElement;
        const press = all[0];
        // Whoever has gone elsewhere doesn't type into the table any more.
        if (!press || !to || !now.current.view.current?.contains(to)) {
          all.length = 0;
          break;
        }
        all.shift();
        give(press, to);
        await drawn();
      }
      giving.current = false;
    };
    if (all.length === 0 || giving.current) return;
    const why = now.current.never();
    if (why) {
      all.length = 0;
      now.current.say(why);
    } else if (now.current.ready()) void giveAll();
  });

  useEffect(() => {
    // While they are given to it, what is pressed comes after them, wherever the focus is in the table by then.
    const pressed = (event: globalThis.KeyboardEvent): void => {
      if (!giving.current || !event.isTrusted || ["Shift", "Control", "Alt", "Meta"].includes(event.key)) return;
      if (!(event.target instanceof Node) || !now.current.view.current?.contains(event.target)) return;
      event.preventDefault();
      event.stopPropagation();
      held.current.push(event);
    };
    window.addEventListener("keydown", pressed, true);
    return () => window.removeEventListener("keydown", pressed, true);
  }, []);

  return {
    any: () => held.current.length > 0 || giving.current,
    hold: (event) => {
      event.preventDefault();
      held.current.push(event.nativeEvent);
    },
  };
}
