/**
 * What is typed into a form and not written. It outlives the view, and with the desk (`renderer/frame/typed-desk.ts`) the
 * window and the program, as cells of tables do.
 */
import { useCallback, useMemo, useRef, useState, useSyncExternalStore } from "react";
import type { z } from "zod";

export interface TypedForm {
  /** Which form, and for what: its address, or the dialog and its kind. */
  readonly key: string;
  /** What people know it by. */
  readonly title: string;
  /** JSON; whoever takes it up looks whether it is what the form has. */
  readonly value: unknown;
}

const forms = new Map<string, TypedForm>();
let all: readonly TypedForm[] = [];
const listeners = new Set<() => void>();

const tell = (): void => {
  all = [...forms.values()];
  for (const listener of listeners) listener();
};

/** Told with each letter that is typed into any form. */
export function onForms(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** All that is typed into forms and not written. */
export const formsAway = (): readonly TypedForm[] => all;

export const useTypedForms = (): readonly TypedForm[] => useSyncExternalStore(onForms, formsAway);

/** Puts back what `formsAway` gave; answers those in which something else is typed by now. */
export function restoreForms(back: readonly TypedForm[]): readonly TypedForm[] {
  const isOther = ({ key, value }: TypedForm) =>
    forms.has(key) && JSON.stringify(forms.get(key)?.value) !== JSON.stringify(value);
  const left = back.filter(isOther);
  for (const one of back) if (!left.includes(one)) forms.set(one.key, one);
  tell();
  return left;
}

/** For a form whose state lies outside of any view; others have `useKeptForm`. */
export function put(form: TypedForm): void {
  if (JSON.stringify(forms.get(form.key)) === JSON.stringify(form)) return;
  forms.set(form.key, form);
  tell();
}

/** What is typed into a form, where anything is. */
export const formOf = (key: string): TypedForm | undefined => forms.get(key);

export function drop(key: string): void {
  if (forms.delete(key)) tell();
}

export interface KeptForm<T> {
  readonly value: T;
  /** Something is typed that isn't written. */
  readonly typed: boolean;
  readonly type: (change: (before: T) => T) => void;
  /** It was written, or is left: nothing of it is kept. The form goes on with `next`. */
  readonly end: (next: T) => void;
}

/** @param first what the form begins with, even where that changes before anything is typed; typed back to it, nothing is kept */
export function useKeptForm<T>(key: string, title: string, first: T, shape: z.ZodType<T>): KeptForm<T> {
  const kept = useSyncExternalStore(onForms, () => forms.get(key));
  const [base, setBase] = useState(first);
  const begun = JSON.stringify(first);
  const [from, setFrom] = useState(begun);
  const typed = useMemo(() => {
    const read = kept ? shape.safeParse(kept.value) : null;
    return read?.success ? { value: read.data } : null;
  }, [kept, shape]);
  // A form in which nothing is typed begins with what is on record now; what is typed stays what it was typed on.
  if (from !== begun && !typed) {
    setFrom(begun);
    setBase(first);
  }
  const value = typed ? typed.value : base;
  /** Several letters may come before the form is drawn again. */
  const latest = useRef(value);
  latest.current = value;
  const type = useCallback(
    (change: (before: T) => T) => {
      const next = change(latest.current);
      latest.current = next;
      if (JSON.stringify(next) === JSON.stringify(base)) drop(key);
      else put({ key, title, value: next });
    },
    [key, title, base],
  );
  const end = useCallback(
    (next: T) => {
      latest.current = next;
      setBase(next);
      drop(key);
    },
    [key],
  );
  return { value, typed: typed !== null, type, end };
}
