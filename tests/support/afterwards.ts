/** What tests began and must be ended: with the test, or when its whole file has run if it was begun before any test. */
import { onTestFinished } from "vitest";

type Act = () => void | Promise<void>;

/** What was begun in `beforeAll`, the last thing last. */
const afterwards: Act[] = [];

/** Ends something when the test ends; begun in `beforeAll`, when the file of tests has run. */
export function atTheEnd(act: Act): void {
  try {
    onTestFinished(act);
  } catch {
    // There is no test yet.
    afterwards.push(act);
  }
}

/** Ends what the file of tests began before its tests, the last thing first. */
export async function endAll(): Promise<void> {
  for (let act = afterwards.pop(); act; act = afterwards.pop()) await act();
}
