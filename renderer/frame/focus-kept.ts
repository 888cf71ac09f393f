/**
 * The keyboard is always somewhere. What has the focus may go away or be disabled: a page for the next one, a dialog, a row
 * that was deleted, a button that runs. A browser then lets the focus fall to the page's body, where keys are heard by
 * nothing. Here it is handed on: of a dialog to what opened it, of a row to its neighbour, of a page to the question of the
 * next one, and otherwise to what stood around it, from where Tab goes on. A part that sets the focus itself comes first.
 */
import { useEffect, useLayoutEffect, useRef } from "react";

const CONTROLS =
  'a[href], button:not(:disabled), input:not(:disabled), select:not(:disabled), textarea:not(:disabled), [tabindex="0"]';
const ROWS = "li, tr, [role=row], [role=listitem]";
/** What opens above the page and goes again. */
const ABOVE = "dialog, [role=dialog]";

/** Where an element stood: each that holds it, from the inside out, and the how-manieth child of it it was in. */
type Stood = readonly (readonly [around: HTMLElement, at: number])[];

const stood = new WeakMap<HTMLElement, Stood>();
/** What had the focus when it came into a dialog. */
const openers = new WeakMap<Element, HTMLElement>();

let last: HTMLElement | null = null;
/** What had it before it came to the search box. */
let beforeSearch: HTMLElement | null = null;

const isNowhere = (): boolean => document.activeElement === null || document.activeElement === document.body;
const isShown = (one: HTMLElement): boolean => one.isConnected && one.getClientRects().length > 0;
const takes = (one: HTMLElement): boolean => isShown(one) && !one.matches(":disabled");

function note(one: HTMLElement): void {
  const places: (readonly [HTMLElement, number])[] = [];
  for (let inner: HTMLElement = one; inner.parentElement; inner = inner.parentElement)
    places.push([inner.parentElement, [...inner.parentElement.children].indexOf(inner)]);
  stood.set(one, places);
  const above = one.closest(ABOVE);
  if (last && above && !above.contains(last)) openers.set(above, last);
  if (last && one.closest("[data-search]") && last !== one) beforeSearch = last;
  last = one;
}

/** The keyboard goes to the page's question: to what is still empty in it. False while there is none. */
export function focusQuestion(): boolean {
  const question = document.querySelector<HTMLElement>(".main h1");
  if (!question) return false;
  const empty = question.querySelector<HTMLElement>(".blank.empty");
  (empty ?? standIn(question)).focus({ preventScroll: true });
  return true;
}

/** Back from the search box to where the keyboard was. */
export function focusBeforeSearch(): void {
  if (beforeSearch && takes(beforeSearch)) standIn(beforeSearch).focus({ preventScroll: true });
  else focusQuestion();
}

/** Makes what can't be focused able to be, as long as it is. */
function standIn(one: HTMLElement): HTMLElement {
  if (one.tabIndex >= 0 || one.hasAttribute("tabindex")) return one;
  one.tabIndex = -1;
  one.addEventListener("blur", () => one.removeAttribute("tabindex"), { once: true });
  return one;
}

/** The row that took a row's place, or the one before it: its first control, which is its name and does no harm. */
function neighbour(around: HTMLElement, at: number): HTMLElement | null {
  const { children } = around;
  const row = children[Math.min(at, children.length - 1)];
  if (!(row instanceof HTMLElement) || !row.matches(ROWS)) return null;
  if (row.tabIndex === 0) return row;
  return [...row.querySelectorAll<HTMLElement>(CONTROLS)].find(takes) ?? null;
}

function handOn(lost: HTMLElement): boolean {
  const places = stood.get(lost) ?? [];
  for (const [around, at] of places) {
    if (around.matches(ABOVE) && !isShown(around)) {
      const opener = openers.get(around);
      if (opener) {
        if (!takes(opener)) return opener !== lost && handOn(opener);
        standIn(opener).focus({ preventScroll: true });
        return true;
      }
    }
    if (!isShown(around)) continue;
    if (around.contains(document.querySelector(".main h1"))) break;
    (neighbour(around, at) ?? standIn(around)).focus({ preventScroll: true });
    return true;
  }
  return focusQuestion();
}

/** @param page which page is shown: at another one the question has the focus, unless that page has given it elsewhere */
export function useFocusKept(page: string): void {
  const asked = useRef(true);
  // biome-ignore lint/correctness/useExhaustiveDependencies: the page is what it is about
  useLayoutEffect(() => {
    asked.current = isNowhere() && !focusQuestion();
  }, [page]);
  useEffect(() => {
    let due = false;
    const look = () => {
      due = false;
      if (!isNowhere()) asked.current = false;
      else if (asked.current) asked.current = !focusQuestion();
      // Who pressed on the bare ground has let it go, and it is still there.
      else if (last && !takes(last)) handOn(last);
    };
    const other = () => {
      asked.current = true;
      soon();
    };
    const soon = () => {
      if (due) return;
      due = true;
      // What is drawn now may still take it itself.
      requestAnimationFrame(() => setTimeout(look));
    };
    const noted = (event: FocusEvent) => {
      asked.current = false;
      if (event.target instanceof HTMLElement) note(event.target);
    };
    const watch = new MutationObserver(soon);
    watch.observe(document.body, {
      childList: true,
      subtree: true,
      attributeFilter: ["disabled", "hidden", "open"],
    });
    document.addEventListener("focusin", noted);
    document.addEventListener("close", soon, true);
    window.addEventListener("hashchange", other);
    soon();
    return () => {
      watch.disconnect();
      document.removeEventListener("focusin", noted);
      document.removeEventListener("close", soon, true);
      window.removeEventListener("hashchange", other);
    };
  }, []);
}
