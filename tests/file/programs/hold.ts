/** Opens a plant file, tells how, and keeps it open until its input ends. */
import { openApplication } from "../../../host/application.ts";

const [path = "", mode] = process.argv.slice(2);
const application = await openApplication(path, {
  readOnly: mode === "read",
  user: "Other Person",
  backupAtClose: false,
});
const { read_only, writer } = await application.file.status();
process.stdout.write(`${JSON.stringify({ read_only, writer })}\n`);
process.stdin.resume().once("end", () => application.close());
