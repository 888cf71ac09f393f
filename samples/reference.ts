/** Writes the reference page of record kinds: `npm run reference`. */
import { writeFileSync } from "node:fs";
import { referencePage } from "../core/model/reference.ts";

writeFileSync(new URL("./reference.md", import.meta.url), referencePage());
