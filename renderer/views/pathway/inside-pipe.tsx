/** What lies in one pipe: cables on its floor, pipes inside as rings with their own cables. */

import type { Disc } from "../../../core/paper/packing.ts";
import type { Occupant, Pipe } from "../../../core/pathway/answer.ts";
import { lyingIn } from "../../drawing/lying.ts";

export interface InsideProps {
  readonly pipe: Pipe;
  /** Every pipe of the way, to find those inside this one. */
  readonly pipes: readonly Pipe[];
  /** Half the bore, in pixels. */
  readonly r: number;
  /** Pixels for a millimetre; null where the bore is not on record. */
  readonly perMm: number | null;
}

/** A pipe takes up more than its bore; a tenth is drawn for its wall. */
const WALL = 1.1;

const radiusIn =
  ({ r, perMm }: Pick<InsideProps, "r" | "perMm">) =>
  (mm: number | null): number =>
    perMm === null || mm === null || mm <= 0 ? r * 0.22 : Math.max(2.5, (mm * perMm) / 2);

export interface Lying {
  readonly disc: Disc;
  /** One of the two. */
  readonly pipe: Pipe | undefined;
  readonly cable: Occupant | undefined;
}

/** Pipes first, then cables, side by side on the floor. */
export function lyingOn({ pipe, pipes, r, perMm }: InsideProps): readonly Lying[] {
  const inner = pipe.pipes.flatMap((ref) => pipes.find(({ conduit }) => conduit.id === ref.id) ?? []);
  const radius = radiusIn({ r, perMm });
  const sizes = [
    ...inner.map(({ inner_diameter_mm: mm }) => radius(mm) * WALL),
    ...pipe.occupants.map(({ outer_diameter_mm: mm }) => radius(mm)),
  ];
  return lyingIn(r, sizes).map((disc, index) => ({
    disc,
    pipe: inner[index],
    cable: pipe.occupants[index - inner.length],
  }));
}

export function InsidePipe(props: InsideProps) {
  const radius = radiusIn(props);
  return lyingOn(props).map(({ disc, pipe, cable }) => (
    <g key={pipe ? `pipe ${pipe.conduit.id}` : cable?.cable.id} transform={`translate(${disc.x} ${disc.y})`}>
      {pipe ? (
        <>
          <circle r={disc.r} fill="var(--paper)" stroke="var(--ink)" strokeWidth="1.5" />
          {lyingIn(
            disc.r / WALL,
            pipe.occupants.map(({ outer_diameter_mm: mm }) => radius(mm)),
          ).map((own, index) => (
            <CableDisc key={pipe.occupants[index]?.cable.id} disc={own} cable={pipe.occupants[index]} />
          ))}
        </>
      ) : (
        <CableDisc disc={{ x: 0, y: 0, r: disc.r }} cable={cable} />
      )}
    </g>
  ));
}

/** A cable whose diameter isn't on record is dashed, one that is out of use hollow. */
function CableDisc({ disc: { x, y, r }, cable }: { readonly disc: Disc; readonly cable: Occupant | undefined }) {
  const known = (cable?.outer_diameter_mm ?? 0) > 0;
  const used = cable?.life !== "out_of_use";
  return (
    <circle
      cx={x}
      cy={y}
      r={Math.max(1.5, r - 0.75)}
      fill={known && used ? "var(--ink2)" : "var(--paper)"}
      stroke="var(--ink2)"
      strokeWidth="1.5"
      strokeDasharray={known ? undefined : "2.5 2"}
    >
      <title>{cable?.cable.tag}</title>
    </circle>
  );
}
