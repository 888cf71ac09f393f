/** Answers the page's messages: the sender is verified, the input decoded, then one act is done. */
import type { IpcMain, IpcMainInvokeEvent, WebContents } from "electron";
import { z } from "zod";
import { decode, type Reply } from "../core/operations/dispatch.ts";
import {
  type Kept,
  type PaperReply,
  type ThemeChoice,
  type WireCall,
  type WirePaper,
  type WireStopped,
  wireCall,
  wirePaper,
  wireStop,
} from "../core/operations/wire.ts";
import { type Failure, Refusal } from "../core/result.ts";
import { say } from "../core/words/say.ts";
import { refused } from "../host/window/calls.ts";
import { CHANNELS, type ChannelName } from "./channels.ts";
import { isOurSender } from "./sender.ts";

/** What main does for the page. */
export interface PageActs {
  /** Answers the reply as JSON text. */
  call(call: WireCall): Promise<string>;
  stop(id: string): Promise<WireStopped>;
  paper(asked: WirePaper): Promise<PaperReply>;
  kept(): Promise<Kept>;
  keep(change: unknown): Promise<void>;
  chooseFile(what: string): Promise<string | null>;
  chooseFolder(what: string): Promise<string | null>;
  reveal(path: string): Promise<void>;
  print(): Promise<void>;
  theme(choice: ThemeChoice): Promise<void>;
  /** Null where the user is to choose. */
  openPlant(path: string | null): Promise<void>;
}

const path = z.string().min(1).max(4096);
const title = z.string().min(1).max(120);

/** `ours` answers the window's contents now, or null while there is no window. */
export function answerPage(
  ipc: Pick<IpcMain, "handle">,
  ours: () => Pick<WebContents, "id"> | null,
  acts: PageActs,
): void {
  const on = (name: ChannelName, answer: (input: unknown) => Promise<unknown>) => {
    ipc.handle(CHANNELS[name], async (event: IpcMainInvokeEvent, ...words: unknown[]) => {
      if (!isOurSender(event, ours())) throw new Error("Only Strandbook's own page may ask this.");
      if (words.length > 1) throw new Error("One input at most.");
      return answer(words[0]);
    });
  };
  on("call", async (input) => {
    const call = tryDecode(wireCall, input);
    return "failure" in call
      ? JSON.stringify(refused(call.failure) satisfies Reply)
      : acts.call(call.value as WireCall);
  });
  on("paper", async (input) => {
    const asked = tryDecode(wirePaper, input);
    return "failure" in asked ? refused(asked.failure) : acts.paper(asked.value);
  });
  on("stop", (input) => acts.stop(wireStop.parse(input).id));
  on("kept", () => acts.kept());
  on("keep", (input) => acts.keep(input));
  on("chooseFile", (input) => acts.chooseFile(title.parse(input)));
  on("chooseFolder", (input) => acts.chooseFolder(title.parse(input)));
  on("reveal", (input) => acts.reveal(path.parse(input)));
  on("print", () => acts.print());
  on("theme", (input) => acts.theme(z.enum(["system", "light", "dark"]).parse(input)));
  on("openPlant", (input) => acts.openPlant(input === undefined ? null : path.parse(input)));
}

function tryDecode<S extends z.ZodType>(schema: S, input: unknown): { value: z.output<S> } | { failure: Failure } {
  try {
    return { value: decode(schema, input, say`a call`) };
  } catch (error) {
    if (error instanceof Refusal) return { failure: error.failure };
    throw error;
  }
}
