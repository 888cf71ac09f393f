/** Which shape a place is drawn with, and the words for shapes and ways. */
import { kindOf } from "../model/dictionary.ts";
import { say } from "../words/say.ts";

const ROOMS = new Set(["entrance_room", "telecom_room", "equipment_room"]);
const SHAPES = new Set(["maintenance_hole", "hand_hole", "pull_box", "pole", "pedestal", "cabinet"]);

/** A space of a building is a room whatever its kind. */
export const placeShape = (kind: string | null, inBuilding: boolean): string =>
  inBuilding || (kind !== null && ROOMS.has(kind)) ? "room" : kind !== null && SHAPES.has(kind) ? kind : "unknown";

const valuesOf = (kind: "space" | "pathway"): Readonly<Record<string, string>> => {
  const field = kindOf(kind).fields.kind;
  return field?.type === "choice" ? field.values : {};
};
const SPACES = valuesOf("space");
const WAYS = valuesOf("pathway");

export const placeWords = (shape: string): string =>
  shape === "room" ? say`room` : shape === "unknown" ? say`place of a kind not given` : (SPACES[shape] ?? shape);
export const wayWords = (kind: string | null): string =>
  kind === null ? say`way of a kind not given` : (WAYS[kind] ?? kind);
export const spaceWords = (kind: string | null): string =>
  kind === null ? say`kind not given` : (SPACES[kind] ?? kind);
