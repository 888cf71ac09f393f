/** Runs anew before each file of tests, also where files share what was imported. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterAll } from "vitest";
import { endAll } from "./afterwards.ts";

// What this machine keeps for its user, a name or a language among it, is neither read nor changed by a test.
const kept = mkdtempSync(join(tmpdir(), "strandbook-kept-"));
process.env.STRANDBOOK_DATA = kept;
delete process.env.STRANDBOOK_AUTHOR;

// The same inputs in every run, so that a change is judged by what it changed; STRANDBOOK_SEED goes looking for others.
fc.configureGlobal({ seed: Number(process.env.STRANDBOOK_SEED ?? 2026) });

afterAll(async () => {
  await endAll();
  rmSync(kept, { recursive: true, force: true });
});
