/** Reads a folder of tables into a plant file; says when it begins to read, when it begins to write, and when it is done. */
import { openApplication } from "../../../host/application.ts";

const [path = "", folder = ""] = process.argv.slice(2);
const application = await openApplication(path, { backupAtClose: false });
const say = (what: object) => process.stdout.write(`${JSON.stringify(what)}\n`);
let writing = false;
say({ began: true });
const reply = await application.session.dispatch(
  { name: "exchange.import", input: { folder }, occasion: { author: "Killed Person" } },
  {
    onProgress: ({ what }) => {
      if (!writing && what.startsWith("writing")) say({ writing: true });
      writing ||= what.startsWith("writing");
    },
  },
);
say({ done: reply.ok });
await application.close();
