/** Places, by shape: a room is solid because it is inside a building. */
import type { ReactNode } from "react";

const OPEN = { fill: "var(--paper)", stroke: "var(--ink)", strokeWidth: 1.75 } as const;
const square = <rect x="-6.5" y="-6.5" width="13" height="13" {...OPEN} />;

const SHAPES: Readonly<Record<string, ReactNode>> = {
  room: <rect x="-7" y="-7" width="14" height="14" fill="var(--ink)" />,
  maintenance_hole: <circle r="7" {...OPEN} />,
  hand_hole: square,
  pull_box: (
    <g>
      {square}
      <path d="M-6.5 0H6.5" stroke="var(--ink)" strokeWidth="1.5" />
    </g>
  ),
  pole: (
    <g>
      <circle r="6" {...OPEN} />
      <circle r="1.75" fill="var(--ink)" />
    </g>
  ),
  pedestal: <path d="M-6.5 6.5V-2L0-7.5 6.5-2V6.5Z" {...OPEN} strokeLinejoin="round" />,
  cabinet: (
    <g>
      <rect x="-8" y="-6" width="16" height="12" {...OPEN} />
      <path d="M-8 6 8-6" stroke="var(--ink)" strokeWidth="1.5" />
    </g>
  ),
  unknown: <rect x="-6.5" y="-6.5" width="13" height="13" {...OPEN} strokeDasharray="3 2.5" />,
};

const ROOMS = new Set(["entrance_room", "telecom_room", "equipment_room"]);

/** Which shape a kind of space has; a space of a building is a room whatever its kind. */
export function placeShape(spaceKind: string | null, inBuilding: boolean): string {
  if (inBuilding || (spaceKind !== null && ROOMS.has(spaceKind))) return "room";
  return spaceKind !== null && spaceKind in SHAPES ? spaceKind : "unknown";
}

export const PlaceMark = ({ shape }: { readonly shape: string }) => <>{SHAPES[shape] ?? SHAPES.unknown}</>;
