/** Builds the demo campus from its tables, act by act, as its people would have entered it. */
import { openApplication } from "../../host/application.ts";
import { enterCables, enterTypes } from "./cables.ts";
import { Crew, storyClock } from "./crew.ts";
import { enterEvidence } from "./evidence.ts";
import { plantFaults } from "./faults.ts";
import { plantFaultsOfFitness } from "./faults-fitness.ts";
import { plantFaultsOfLight } from "./faults-light.ts";
import { plantFaultsOfResilience } from "./faults-resilience.ts";
import { enterCassettes, landCables, spliceCables } from "./glass.ts";
import { enterEarthing, enterPlaces } from "./places.ts";
import { enterCircuits, enterDevices, patchSome } from "./service.ts";
import { patchShowpieces, spliceRibbons } from "./showpieces.ts";

export async function buildCampus(path: string): Promise<void> {
  const clock = storyClock();
  const application = await openApplication(path, {
    create: { name: "Vennholm Marine College" },
    clock,
    // The file has no name yet; it is put on the disk when it is whole.
    unsynced: true,
    backupAtClose: false,
    backupEvery_min: 0,
    onDefect: (name, error) => {
      throw new Error(`${name}: ${error}`);
    },
  });
  try {
    const crew = new Crew(application, clock);
    const places = await enterPlaces(crew);
    await enterEarthing(crew);
    await enterTypes(crew);
    const cables = await enterCables(crew, places);
    const landings = await landCables(crew, cables);
    await spliceCables(crew);
    await spliceRibbons(crew);
    await enterCassettes(crew);
    await enterDevices(crew);
    await enterCircuits(crew, cables, landings);
    await patchSome(crew, landings);
    await enterEvidence(crew, cables);
    await plantFaults(crew);
    await plantFaultsOfLight(crew, landings);
    await plantFaultsOfResilience(crew);
    await plantFaultsOfFitness(crew);
    await patchShowpieces(crew, landings);
  } finally {
    await application.close();
  }
}
