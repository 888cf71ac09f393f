import type { View } from "../view.ts";
import { MapPage } from "./map.tsx";

export const map: View = {
  path: "map",
  tab: "enter",
  help: "Reads places and ways from GeoJSON or KML and shows each one's fate before anything is written.",
  question: ["If places and ways were read from a map, what would change?"],
  component: MapPage,
};
