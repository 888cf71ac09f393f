/** Reads a sheet in a process of its own, and says what came of it and how much memory that took at its peak, in megabytes. */
import { openApplication } from "../../host/application.ts";

const [, , plant = "", file = "", name = "sheet.read"] = process.argv;
const application = await openApplication(plant, {
  create: { name: "hostile" },
  backupAtClose: false,
  backupEvery_min: 0,
});
const before = process.resourceUsage().maxRSS;
const reply = await application.session.dispatch({ name, input: { file }, occasion: { author: "Test Person" } });
await application.close();
const megabytes = Math.round((process.resourceUsage().maxRSS - before) / 1024);
const said = reply.ok ? { rows: (reply.value as { rows: number }).rows } : reply.error;
console.log(JSON.stringify({ ...said, megabytes }));
