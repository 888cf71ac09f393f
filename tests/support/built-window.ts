/** The window is built once before the journeys run, from the sources as they are. */
import { buildRenderer } from "../../setup/build.ts";

export default async function setup(): Promise<void> {
  await buildRenderer();
}
