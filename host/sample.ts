/** The demo campus as a plant file. */
import { buildCampus } from "../samples/campus/build.ts";

/** Writes the demo campus to `path`, where nothing may be yet. */
export const writeSample = (path: string): Promise<void> => buildCampus(path);
