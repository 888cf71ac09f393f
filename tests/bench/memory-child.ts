/** Asks a plant the questions that need all of it, and says how much memory the process had at its peak, in megabytes. */
import { ask, opened } from "./ground.ts";

const [, , path, building] = process.argv;
const application = await opened(path as string);
await ask(application, "check.run");
await ask(application, "feeds.of", { what: building });
await ask(application, "record.window", { kind: "strand", sort: [], filters: [], offset: 0, limit: 60 });
await application.close();
console.log(Math.round(process.resourceUsage().maxRSS / 1024));
