import type { Client } from "../client/client.ts";

export async function undo(_client: Client): Promise<void> {}
export async function redo(_client: Client): Promise<void> {}
