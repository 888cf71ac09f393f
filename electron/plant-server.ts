/** The plant's end of the talk with main: opens the file and answers messages. */
import { basename } from "node:path";
import { Refusal } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { type Application, openApplication } from "../host/application.ts";
import { press } from "../host/paper/press.ts";
import { EXTENSION } from "../host/plant-file.ts";
import { Calls, refused } from "../host/window/calls.ts";
import type { FromPlant, ToPlant } from "./plant-messages.ts";

/** The part of Electron's `parentPort` that is used. */
export interface Port {
  postMessage(message: FromPlant): void;
  on(event: "message", listener: (event: { data: ToPlant }) => void): unknown;
}

export interface PlantServerParts {
  readonly port: Port;
  readonly file: string;
  /** Makes the file first. */
  readonly create: boolean;
  readonly note: (name: string, error: unknown) => void;
  /** Ends the process once all is said. */
  readonly exit: (code: number) => void;
}

export async function servePlant(parts: PlantServerParts): Promise<Application | null> {
  const { port, note, exit } = parts;
  const application = await open(parts);
  if (!application) return null;
  const calls = new Calls(application.session, (event) => port.postMessage({ type: "event", event }), press);
  const defect = (name: string, error: unknown) => {
    note(name, error);
    return refused({ code: "internal", message: say`A defect of the program stopped this call.`, problems: [] });
  };
  port.on("message", async ({ data }) => {
    switch (data.type) {
      case "call": {
        const reply = await calls.answer(data.call).catch((error) => defect(data.call.name, error));
        return port.postMessage({ type: "reply", ticket: data.ticket, text: JSON.stringify(reply) });
      }
      case "paper": {
        const printed = await calls.paper(data.paper).catch((error) => defect(data.paper.name, error));
        return port.postMessage({ type: "printed", ticket: data.ticket, printed });
      }
      case "stop":
        return port.postMessage({ type: "reply", ticket: data.ticket, text: JSON.stringify(calls.stop(data.stop)) });
      case "close":
        await calls.close();
        await application.close();
        port.postMessage({ type: "closed" });
        return exit(0);
    }
  });
  port.postMessage({ type: "opened" });
  return application;
}

async function open({ port, file, create, note }: PlantServerParts): Promise<Application | null> {
  try {
    return await openApplication(file, {
      create: create ? { name: basename(file, EXTENSION) } : undefined,
      onDefect: note,
    });
  } catch (error) {
    if (!(error instanceof Refusal)) note("opening", error);
    const message =
      error instanceof Refusal ? error.message : say`A defect of the program stopped the opening of the file.`;
    port.postMessage({
      type: "not_opened",
      message,
      problems: error instanceof Refusal ? [...error.failure.problems] : [],
    });
    return null;
  }
}
