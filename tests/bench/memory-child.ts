/**
 * Says how much memory a process had at its peak, in megabytes: `ask FILE BUILDING` asks a plant the questions that need
 * all of it, `import FILE FOLDER` reads a folder into a new plant, undoes it and does it again.
 */
import { openApplication } from "../../host/application.ts";
import { ask, opened } from "./ground.ts";

const [, , what, path = "", of = ""] = process.argv;
if (what === "import") {
  const application = await openApplication(path, { create: { name: "bench" }, backupAtClose: false });
  await ask(application, "exchange.import", { folder: of });
  await ask(application, "history.undo");
  await ask(application, "history.redo");
  await application.close();
} else {
  const application = await opened(path);
  await ask(application, "check.run");
  await ask(application, "feeds.of", { what: of });
  await ask(application, "record.window", { kind: "strand", sort: [], filters: [], offset: 0, limit: 60 });
  await application.close();
}
console.log(Math.round(process.resourceUsage().maxRSS / 1024));
