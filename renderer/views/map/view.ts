import { say } from "../../../core/words/say.ts";
import type { View } from "../view.ts";
import { MapPage } from "./map.tsx";

export const map: View = {
  path: "map",
  tab: "enter",
  help: say`Reads places and ways from GeoJSON or KML and shows each one's fate before anything is written.`,
  question: [say`If places and ways were read from a map, what would change?`],
  component: MapPage,
};
