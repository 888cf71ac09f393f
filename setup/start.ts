/** `npm start`: the language first, since sentences are made while modules load, then the program itself. */
import { speakChosen, windowWords } from "../host/words/languages.ts";

const found = speakChosen();
for (const fault of found.faults) process.stderr.write(`${fault}\n`);
const { begin } = await import("./begin.ts");
process.exitCode = await begin(process.argv.slice(2), windowWords(found));
