/**
 * The plant's process: opens the file named first on its command line and answers main's messages. No query, however
 * long, can freeze the window from here.
 */
import { speakChosen } from "../host/words/languages.ts";

speakChosen();
const { servePlant } = await import("./plant-server.ts");

const [file = "", ...words] = process.argv.slice(2);
const application = await servePlant({
  port: process.parentPort,
  file,
  create: words.includes("--new"),
  note: (name, error) => console.error(`strandbook: defect in ${name}:`, error),
  exit: (code) => process.exit(code),
});

// Main's program is gone: nobody is left to answer.
if (application) process.on("disconnect", () => void application.close().then(() => process.exit(0)));
// Main has been told why; the message needs a moment to leave.
else setTimeout(() => process.exit(1), 100);
