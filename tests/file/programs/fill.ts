/** Writes ever larger change sets until one is refused; tells how, whether what is there is whole, and closes. */

import { Refusal } from "../../../core/result.ts";
import { openApplication } from "../../../host/application.ts";

const [path = ""] = process.argv.slice(2);
const { store, close } = await openApplication(path, { backupAtClose: false }).then((application) => ({
  store: application.store,
  close: () => application.close(),
}));
const say = (what: object) => process.stdout.write(`${JSON.stringify(what)}\n`);
const count = () =>
  store.read(async (reader) => (await reader.rows<{ n: number }>("SELECT count(*) AS n FROM building"))[0]?.n ?? 0);

for (let size = 100; ; size *= 2) {
  const before = await count();
  try {
    await store.write(async (writer) => {
      for (let n = 1; n <= size; n++) {
        const values = [before + n, `B${before + n}`, "x".repeat(3900)];
        await writer.run("INSERT INTO building (id, rev, tag, notes, life) VALUES (?, 0, ?, ?, 'in_place')", values);
      }
    });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const after = await count();
    const small = await store.write((writer) => writer.run("UPDATE plant SET name = 'small'")).catch((e) => String(e));
    say({ refused: error.failure, before, after, small });
    break;
  }
}
await close();
