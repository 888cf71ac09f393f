/** Opens an older plant file, which upgrades it; says when it begins and when it is done. */
import { openPlant } from "../../../host/plant-file.ts";
import { LATER } from "../../migrations/invented.ts";

const [path = ""] = process.argv.slice(2);
process.stdout.write(`${JSON.stringify({ began: true })}\n`);
const plant = await openPlant(path, { migrations: LATER });
process.stdout.write(`${JSON.stringify({ done: true })}\n`);
plant.close();
