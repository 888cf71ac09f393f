/** Begins the command: the language first, since sentences are made while modules load, then the program itself. */
import { speakChosen } from "../words/languages.ts";

speakChosen();
const { strandbook } = await import("./main.ts");
const { processTerminal } = await import("./terminal.ts");
const code = await strandbook(process.argv.slice(2), processTerminal());
process.exitCode ??= code;
