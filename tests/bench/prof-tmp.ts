import { mkdtempSync } from "node:fs";
import { join } from "node:path";
import { openApplication } from "../../host/application.ts";
const rows = Number(process.argv[2] ?? 500);
const folder = mkdtempSync("/tmp/w7b/");
const app = await openApplication(join(folder, "p.strandbook"), { create: { name: "P" }, backupAtClose: false, backupEvery_min: 0 });
const run = async (name: string, input: unknown) => {
  const reply = await app.session.dispatch({ name, input, occasion: { author: "x" } });
  if (!reply.ok) throw new Error(JSON.stringify(reply.error).slice(0, 500));
  return reply.value as any;
};
const add = (kind: string, values: unknown) => run("record.add", { kind, values });
await add("building", { tag: "LIB" }); 
await add("space", { tag: "101", building_id: "LIB", kind: "telecom_room" });
await add("space", { tag: "MH-03", kind: "hand_hole" });
const tubes = (n: number) => [{ kind: "tube", repeats: Math.ceil(n / 12), strands: 12 }];
await run("cable.enter", { tag: "F-1", units: tubes(rows), stops: [{ space: "LIB/101" }, { space: "MH-03" }] });
await run("cable.enter", { tag: "F-2", units: tubes(rows), stops: [{ space: "MH-03" }, { space: "LIB/101" }] });
await run("closure.enter", { tag: "CL-1", space: "MH-03", trays: [{ numbers: `T1..T${Math.ceil(rows / 24)}`, capacity: 24 }] });
const lines = ["tray;position;cable A strand;cable B strand;loss"];
for (let i = 0; i < rows; i++) lines.push(`MH-03/CL-1/T${Math.floor(i / 24) + 1};${(i % 24) + 1};F-1:${i + 1};F-2:${i + 1};0,03`);
for (let t = 0; t < 2; t++) {
  const from = performance.now();
  const answer = await run("sheet.rehearse", { text: lines.join("\n") });
  const ms = performance.now() - from;
  console.log(rows, answer.sentence, ms.toFixed(0), "ms", (ms / rows).toFixed(2), "ms a row");
}
const usage = ["label on,text"]; for (let i=0;i<rows;i++) usage.push(`F-1:${i+1},x`);
const st = ["fiber,status"]; for (let i=0;i<rows;i++) st.push(`F-1:${i+1},dead`);
for (const text of [st]) { const from = performance.now(); const a = await run("sheet.rehearse", { text: text.join("\n") }); const ms = performance.now()-from; console.log(a.shape, a.sentence, (ms/rows).toFixed(2), "ms a row"); }
await app.close();
