/**
 * The last report on the whole plant that this window has, for marks and lines in tables and on pages. On a plant that is
 * checked quickly it is asked again a moment after each change; on a large one the last report stays until somebody checks.
 */
import { useEffect, useMemo, useSyncExternalStore } from "react";
import type { Finding } from "../../../core/check/finding.ts";
import type { KindName } from "../../../core/model/dictionary.ts";
import { noteChecked } from "../../client/checked.ts";
import type { Client } from "../../client/client.ts";
import { useClient } from "../../client/context.ts";
import { noteRules, type Report } from "./rules.ts";

/** A check that takes longer than this is the person's to ask for. */
const QUICK_MS = 1500;
/** So many strands are checked quickly on any machine. */
const QUICK_STRANDS = 40_000;
/** After so long without a change. */
const QUIET_MS = 700;

const listeners = new Set<() => void>();
let known: Report | null = null;
let revision = -1;
let took_ms: number | null = null;
let running = false;

export function keepReport(report: Report, of: number): void {
  known = report;
  revision = of;
  noteRules(report.rules);
  noteChecked({
    at: Date.now(),
    findings: report.findings.length - report.accepted,
    passes: report.passes,
    revision: of,
  });
  for (const listener of listeners) listener();
}

async function isQuick(client: Client): Promise<boolean> {
  if (took_ms !== null) return took_ms < QUICK_MS;
  const summary = await client.call("plant.summary", {});
  return summary.ok && (summary.value.counts.find((one) => one.kind === "strand")?.count ?? 0) <= QUICK_STRANDS;
}

async function check(client: Client): Promise<void> {
  if (!(await isQuick(client))) return;
  const began = performance.now();
  const reply = await client.call("check.run", {});
  took_ms = performance.now() - began;
  if (reply.ok) keepReport(reply.value, reply.revision);
}

/** The last report, kept current where that is quick; null before the first. */
export function useReport(): Report | null {
  const client = useClient();
  useEffect(() => {
    let wait: ReturnType<typeof setTimeout> | undefined;
    const soon = (quiet: number) => {
      clearTimeout(wait);
      wait = setTimeout(() => {
        if (known && revision === client.revision) return;
        if (running) return;
        running = true;
        void check(client).finally(() => {
          running = false;
        });
      }, quiet);
    };
    soon(0);
    const end = client.onChanged(() => soon(QUIET_MS));
    return () => {
      clearTimeout(wait);
      end();
    };
  }, [client]);
  return useSyncExternalStore(
    (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    () => known,
  );
}

/** Findings by the record of a kind they name; what was accepted is left out. */
export function useFindingsOf(kind: KindName): ReadonlyMap<number, readonly Finding[]> {
  const report = useReport();
  return useMemo(() => {
    const byId = new Map<number, Finding[]>();
    for (const finding of report?.findings ?? []) {
      if (finding.exception?.holds) continue;
      for (const record of finding.records) {
        if (record.kind !== kind) continue;
        const own = byId.get(record.id);
        if (own) own.push(finding);
        else byId.set(record.id, [finding]);
      }
    }
    return byId;
  }, [report, kind]);
}
