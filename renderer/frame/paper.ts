/** What is read before a page goes to paper: a table holds only the rows in sight, and is printed whole. */
import { useEffect } from "react";
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

export async function printPage(client: Client): Promise<void> {
  // What can't be read now is printed as it is on screen.
  await Promise.allSettled([...preparing].map((prepare) => prepare()));
  await client.capabilities.print();
}
