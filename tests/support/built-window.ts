/** The windows are built once before the journeys run, from the sources as they are. */
import { buildRenderer, buildTellingRenderer } from "../../setup/build.ts";

export default async function setup(): Promise<void> {
  await buildRenderer();
  await buildTellingRenderer();
}
