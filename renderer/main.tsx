/** Where the window begins: the language first, since sentences are made while modules load, then all the rest. */
import { learnWords } from "./client/words.ts";

void learnWords().then(() => import("./begin.tsx"));
