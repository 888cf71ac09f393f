/** Tries to write into a file past the lock beside it; tells whether the engine's own lock let it. */
import { Connection } from "../../../host/sqlite-connection.ts";
import { isBusy } from "../../../host/sqlite-errors.ts";

const [path = ""] = process.argv.slice(2);
const connection = new Connection(path);
let wrote = true;
try {
  connection.run("BEGIN IMMEDIATE");
  connection.run("ROLLBACK");
} catch (error) {
  if (!isBusy(error)) throw error;
  wrote = false;
}
connection.close();
process.stdout.write(`${JSON.stringify({ wrote })}\n`);
