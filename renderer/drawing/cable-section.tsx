/** A cable cut across: sheath, armour, tubes in order of number, strands in their colours. */

import type { ReactNode } from "react";
import { type Disc, ringsOf, spreadOver } from "../../core/paper/packing.ts";
import type { ColourLayer } from "../../core/trace/answer.ts";
import type { CableUnit } from "../../core/trace/cable-answer.ts";
import { paintOf, plainWord } from "./colours.ts";

const JACKET = 0.86;

interface Outer {
  readonly layer: ColourLayer | null;
  readonly units: readonly CableUnit[];
}

/** Units by their outermost layer: a sub-cable holds its tubes. */
function outermost(units: readonly CableUnit[]): readonly Outer[] {
  const outer = new Map<string, { layer: ColourLayer | null; units: CableUnit[] }>();
  for (const unit of units) {
    const layer = unit.layers[0] ?? null;
    const key = layer ? `${layer.what} ${layer.position}` : "";
    const own = outer.get(key);
    if (own) own.units.push(unit);
    else outer.set(key, { layer, units: [unit] });
  }
  return [...outer.values()];
}

const strandLayer = (colours: readonly ColourLayer[]): ColourLayer | undefined =>
  colours.find(({ what }) => what === "strand");

/** Strands of a unit as dots; beyond this only the tube is drawn. */
const MOST_DOTS = 24;

function Dots({ unit, disc }: { readonly unit: CableUnit; readonly disc: Disc }) {
  if (unit.strands.length > MOST_DOTS || disc.r < 7) return null;
  const spread = spreadOver(unit.strands.length, disc.r * 0.84);
  return unit.strands.map((strand, index) => {
    const at = spread[index];
    const layer = strandLayer(strand.colours);
    if (!at || !layer) return null;
    const paint = paintOf(layer);
    return (
      <circle
        key={strand.number}
        cx={disc.x + at.x}
        cy={disc.y + at.y}
        r={at.r}
        fill={paint.fill ?? "var(--paper)"}
        stroke="var(--outline)"
        strokeWidth="0.6"
      />
    );
  });
}

/** Ribbons lie flat on each other. */
function Ribbons({ units, disc }: { readonly units: readonly CableUnit[]; readonly disc: Disc }) {
  const width = disc.r * 1.36;
  const height = Math.min(8, (disc.r * 1.3) / units.length);
  return units.map((unit, row) => {
    const dot = width / unit.strands.length;
    const y = disc.y + (row - (units.length - 1) / 2) * height;
    return (
      <g key={unit.record?.id ?? row}>
        {unit.strands.map((strand, index) => {
          const layer = strandLayer(strand.colours);
          return (
            <rect
              key={strand.number}
              x={disc.x - width / 2 + index * dot}
              y={y - height * 0.4}
              width={dot}
              height={height * 0.8}
              fill={(layer && paintOf(layer).fill) ?? "var(--paper)"}
              stroke="var(--outline)"
              strokeWidth="0.4"
            />
          );
        })}
      </g>
    );
  });
}

function Inside({ outer, disc }: { readonly outer: Outer; readonly disc: Disc }): ReactNode {
  const [only] = outer.units;
  const inner = outer.units.map(({ layers }) => layers.at(-1));
  if (outer.units.length > 1 && inner.every((layer) => layer?.what === "ribbon")) {
    return <Ribbons units={outer.units} disc={disc} />;
  }
  if (outer.units.length > 1) {
    return ringsOf(outer.units.length, disc.r * 0.9).map((at, index) => {
      const unit = outer.units[index];
      if (!unit) return null;
      const own = { x: disc.x + at.x, y: disc.y + at.y, r: at.r };
      return (
        <g key={unit.record?.id ?? index}>
          <Tube layer={unit.layers.at(-1) ?? null} disc={own} />
          <Dots unit={unit} disc={own} />
        </g>
      );
    });
  }
  return only ? <Dots unit={only} disc={disc} /> : null;
}

function Tube({ layer, disc }: { readonly layer: ColourLayer | null; readonly disc: Disc }) {
  const paint = layer ? paintOf(layer) : null;
  const wall = Math.max(2, disc.r * 0.14);
  return (
    <>
      <circle cx={disc.x} cy={disc.y} r={disc.r} fill={paint?.fill ?? "var(--paper)"} stroke="var(--outline)" />
      <circle cx={disc.x} cy={disc.y} r={disc.r - wall} fill="var(--paper)" stroke="var(--outline)" strokeWidth="0.5" />
    </>
  );
}

export interface CableSectionProps {
  readonly units: readonly CableUnit[];
  readonly armoured: boolean;
  readonly diameter_mm: number | null;
  readonly label: string;
  /** Of the sheath, in pixels. */
  readonly radius?: number;
}

/** Beside the sheath the tubes' names, below it the line that measures it. */
const MARGIN = 66;

/** The outer diameter is measured by the line under it; what lies inside stands in order and is not to scale. */
export function CableSection({ units, armoured, diameter_mm, label, radius: R = 108 }: CableSectionProps) {
  const outer = outermost(units);
  const inner = R * JACKET - (armoured ? 6 : 0);
  const direct = outer.length === 1 && outer[0]?.layer === null;
  const tubes = direct ? [] : ringsOf(outer.length, inner - 3);
  const core = tubes.length > 2 && tubes.length <= 14 ? inner - 3 - 2 * (tubes[0]?.r ?? 0) * 1.04 : 0;
  return (
    <svg className="cable-section" width={2 * (R + MARGIN)} height={2 * R + 92} role="img" aria-label={label}>
      <g transform={`translate(${R + MARGIN} ${R + 30})`}>
        <circle r={R} fill="var(--ink)" />
        <circle r={R * JACKET} fill="var(--paper)" />
        {armoured ? (
          <circle r={R * JACKET - 3.5} fill="none" stroke="var(--ink)" strokeWidth="2.5" strokeDasharray="4 2.5" />
        ) : null}
        {core > 8 ? (
          <>
            <circle r={core} fill="var(--sunk)" stroke="var(--outline)" />
            <circle r={core * 0.3} fill="var(--ink)" />
          </>
        ) : null}
        {direct && outer[0] ? <Inside outer={outer[0]} disc={{ x: 0, y: 0, r: inner }} /> : null}
        {tubes.map((disc, index) => {
          const own = outer[index];
          if (!own) return null;
          return (
            <g key={own.layer ? `${own.layer.what} ${own.layer.position}` : index}>
              <Tube layer={own.layer} disc={disc} />
              <Inside outer={own} disc={disc} />
            </g>
          );
        })}
        {outer.length <= 14
          ? tubes.map((disc, index) => (
              <TubeName
                key={disc.x * 1000 + disc.y}
                disc={disc}
                layer={outer[index]?.layer ?? null}
                alone={tubes.length === 1}
                at={R + 10}
              />
            ))
          : null}
        {diameter_mm === null ? null : (
          <g transform={`translate(0 ${R + 40})`}>
            <path d={`M${-R}-6V6M${R}-6V6M${-R} 0H-30M30 0H${R}`} stroke="var(--ink2)" fill="none" />
            <text textAnchor="middle" y="4" className="section-words">
              {diameter_mm} mm
            </text>
          </g>
        )}
      </g>
    </svg>
  );
}

/** "1 blue", outside the sheath, beside the tube. */
function TubeName({
  disc,
  layer,
  alone,
  at,
}: {
  /** Distance from the middle. */
  readonly at: number;
  readonly disc: Disc;
  readonly layer: ColourLayer | null;
  readonly alone: boolean;
}) {
  if (!layer) return null;
  const distance = Math.hypot(disc.x, disc.y) || 1;
  const [x, y] = alone ? [0, -at] : [(disc.x / distance) * at, (disc.y / distance) * at];
  const anchor = Math.abs(x) < 12 ? "middle" : x > 0 ? "start" : "end";
  return (
    <text className="section-words" x={x} y={y + (Math.abs(x) < 12 ? (y > 0 ? 12 : -2) : 4)} textAnchor={anchor}>
      {plainWord(layer)}
    </text>
  );
}
