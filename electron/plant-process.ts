/**
 * The plant's process: opens the file named first on its command line and answers main's messages. No query, however
 * long, can freeze the window from here.
 */
import { basename } from "node:path";
import { Refusal } from "../core/result.ts";
import { type Application, openApplication } from "../host/application.ts";
import { EXTENSION } from "../host/plant-file.ts";
import { Calls } from "../host/window/calls.ts";
import type { FromPlant, ToPlant } from "./plant-messages.ts";

const port = process.parentPort;
const tell = (message: FromPlant): void => port.postMessage(message);
const note = (name: string, error: unknown): void => console.error(`strandbook: defect in ${name}:`, error);

async function open(): Promise<Application | null> {
  const [file = "", ...words] = process.argv.slice(2);
  const create = words.includes("--new") ? { name: basename(file, EXTENSION) } : undefined;
  try {
    return await openApplication(file, { create, onDefect: note });
  } catch (error) {
    if (!(error instanceof Refusal)) note("opening", error);
    const message =
      error instanceof Refusal ? error.message : "A defect of the program stopped the opening of the file.";
    tell({ type: "not_opened", message, problems: error instanceof Refusal ? [...error.failure.problems] : [] });
    return null;
  }
}

async function serve(application: Application): Promise<void> {
  const calls = new Calls(application.session, (event) => tell({ type: "event", event }));
  port.on("message", async ({ data }: { data: ToPlant }) => {
    switch (data.type) {
      case "call": {
        const { id } = data.call;
        const reply = await calls.answer(data.call).catch((error: unknown) => {
          note(`call ${id}`, error);
          const message = "A defect of the program stopped this call.";
          return { ok: false, error: { code: "internal", message, problems: [] }, revision: 0 };
        });
        return tell({ type: "reply", ticket: data.ticket, text: JSON.stringify(reply) });
      }
      case "stop":
        return tell({ type: "reply", ticket: data.ticket, text: JSON.stringify(calls.stop(data.stop)) });
      case "close":
        await calls.close();
        await application.close();
        tell({ type: "closed" });
        process.exit(0);
    }
  });
  // The window's program is gone: nobody is left to answer.
  process.on("disconnect", () => void application.close().then(() => process.exit(0)));
  tell({ type: "opened" });
}

const application = await open();
if (application) await serve(application);
else setTimeout(() => process.exit(1), 100);
