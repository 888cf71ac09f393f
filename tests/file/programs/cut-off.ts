/** Begins a write so large that the engine puts part of it into the file before the commit, and waits there. */
import { openApplication } from "../../../host/application.ts";

const [path = ""] = process.argv.slice(2);
const { store } = await openApplication(path, { backupAtClose: false });
await store.write(async (writer) => {
  for (let id = 1; id <= 6000; id++) {
    const values = [id, `B${id}`, "x".repeat(3900)];
    await writer.run(
      "INSERT INTO building (id, rev, tag, name, notes, life) VALUES (?, 0, ?, 'before', ?, 'in_place')",
      values,
    );
  }
});
await store.write(async (writer) => {
  // 24 megabytes: more than the engine keeps in memory.
  await writer.run("UPDATE building SET name = 'after', notes = upper(notes)");
  process.stdout.write(`${JSON.stringify({ written: true })}\n`);
  await new Promise((never) => setTimeout(never, 60_000));
});
