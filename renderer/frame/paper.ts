/** What is read before a page goes to paper: a table holds only the rows in sight, and is printed whole. */
import { useEffect, useRef } from "react";
import type { Client } from "../client/client.ts";

type Prepare = () => Promise<void>;

const preparing = new Set<Prepare>();

/** Runs before the page is printed, which waits for it. */
export function usePaper(prepare: Prepare): void {
  useEffect(() => {
    preparing.add(prepare);
    return () => {
      preparing.delete(prepare);
    };
  }, [prepare]);
}

/** What a page prints in place of itself: the newest that asked for it. */
const inPlace: { readonly current: (() => void) | null }[] = [];

/** The key and the menu print what the page's own button prints; null leaves them the page as it is on screen. */
export function usePaperOf(print: (() => void) | null): void {
  const held = useRef(print);
  useEffect(() => {
    held.current = print;
  });
  useEffect(() => {
    inPlace.push(held);
    return () => {
      inPlace.splice(inPlace.indexOf(held), 1);
    };
  }, []);
}

export async function printPage(client: Client): Promise<void> {
  const own = inPlace.at(-1)?.current;
  if (own) return own();
  // What can't be read now is printed as it is on screen.
  await Promise.allSettled([...preparing].map((prepare) => prepare()));
  await client.capabilities.print();
}
