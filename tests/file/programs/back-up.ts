/** Makes one backup after the other until it is killed. */
import { openApplication } from "../../../host/application.ts";

const [path = ""] = process.argv.slice(2);
const { file } = await openApplication(path, { backupAtClose: false });
await file.backup();
process.stdout.write(`${JSON.stringify({ first: true })}\n`);
for (;;) await file.backup();
