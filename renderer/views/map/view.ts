import type { View } from "../view.ts";
import { MapPage } from "./map.tsx";

export const map: View = {
  path: "map",
  tab: "enter",
  question: ["If places and ways were read from a map, what would change?"],
  component: MapPage,
};
