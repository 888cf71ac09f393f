/**
 * Writes change set after change set until it is killed. Each one gives every building the same name (its number) and
 * adds or deletes one, so that a file between two of them can be told at a glance. Prints each number once it is on disk.
 */

import { Gateway } from "../../../core/store/gateway.ts";
import type { Change } from "../../../core/store/plan.ts";
import { openApplication } from "../../../host/application.ts";
import { machineClock } from "../../../host/clock.ts";

const [path = "", notes = "1000"] = process.argv.slice(2);
const application = await openApplication(path, { backupAtClose: false });
const gateway = new Gateway(application.store, machineClock);
process.stdout.write(`${JSON.stringify({ read_only: application.store.readOnly })}\n`);
if (application.store.readOnly !== null) process.exit(1);

for (;;) {
  const written = await gateway.carryOut("test.edit", { author: "Killed Person" }, async (reader) => {
    const next = (await gateway.revision(reader)) + 1;
    const buildings = await reader.rows<{ id: number }>("SELECT id FROM building ORDER BY id");
    const values = { name: `after ${next}`, notes: `${next} `.repeat(Number(notes)) };
    const changes: Change[] = buildings.map(({ id }) => ({ op: "update", kind: "building", id, values }));
    const [first] = buildings;
    if (next % 3 === 0 && first) changes[0] = { op: "delete", kind: "building", id: first.id };
    else {
      const id = await gateway.newIds(reader, "building", 1);
      changes.push({ op: "insert", kind: "building", id, values: { tag: `B${id}`, ...values } });
    }
    return { summary: `Edit ${next}`, changes, answer: null };
  });
  process.stdout.write(`${JSON.stringify({ change_set: written.change_set })}\n`);
}
