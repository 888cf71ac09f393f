/** Makes a plant file and stops in the middle of it. */
import { createPlant } from "../../../host/plant-file.ts";
import { MIGRATIONS } from "../../../migrations/index.ts";

const [path = ""] = process.argv.slice(2);
const stopping = {
  version: MIGRATIONS.length + 1,
  name: "stops",
  text: (): string => {
    process.stdout.write(`${JSON.stringify({ written: true })}\n`);
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 60_000);
    return "";
  },
};
await createPlant(path, "Never", [...MIGRATIONS, stopping]);
