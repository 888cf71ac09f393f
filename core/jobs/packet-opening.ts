/** The opening of a break-out on its packet: units cut and those that run on, where in the window it is cut, case and lateral. */
import { shortRange } from "../act/numbering.ts";
import { formatLength, formatNumber } from "../model/units.ts";
import type { Block } from "../paper/document.ts";
import type { OpeningDrawing, OpeningUnit } from "../paper/opening.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { OpeningKept } from "./step.ts";

/** The ink of a colour by its code and name; null where none is known. */
export type InkOf = (code: string | null, name: string | null) => string | null;

export function openingBlocks(opening: OpeningKept, inkOf: InkOf): Block[] {
  const { cable, place } = opening;
  return [
    { is: "heading", level: 1, text: say`The opening of ${cable.tag} at ${place.tag}` },
    { is: "opening", drawing: drawingOf(opening, inkOf) },
  ];
}

function drawingOf(
  { cable, place, ends, cut, window_m, opened_before, units, express, ...own }: OpeningKept,
  inkOf: InkOf,
): OpeningDrawing {
  const [a, z] = [ends.a?.tag ?? say`its first stop`, ends.z?.tag ?? say`its last stop`];
  const towards = cut.edge === null ? null : cut.edge === "a" ? a : z;
  const where =
    cut.glass === "no"
      ? say`nothing is cut here`
      : towards === null
        ? say`cut in the middle of the window`
        : say`cut at the edge of the window towards ${towards}`;
  const mark = (one: number): string => `${formatNumber(one, 1)} ${cut.marks?.unit ?? ""}`;
  return {
    ...{ cable: cable.tag, place: place.tag, ends: [a, z] },
    units: [
      ...units.map(({ words, layers, takes, strands, live, ...unit }): OpeningUnit => {
        const outer = layers.at(-1);
        const code = outer?.code ?? "";
        const name = code === "" ? words : `${words} ${code}`;
        const range = shortRange(takes.toSorted((x, y) => x - y));
        const cut =
          takes.length >= strands
            ? say`${name}: ${range} cut, all of it`
            : unit.opened_before
              ? say`${name}: ${range} cut, the rest stays as it is`
              : say`${name}: ${range} cut, the rest runs on`;
        return {
          words: live > 0 ? say`${cut}; ${live} in service, at risk` : cut,
          fill: outer ? inkOf(outer.code, outer.name) : null,
          cut: true,
        };
      }),
      ...(express > 0
        ? [{ words: plural(express, "{0} unit runs on uncut", "{0} units run on uncut"), fill: null, cut: false }]
        : []),
    ],
    cut_at: cut.glass === "no" ? null : cut.at === "middle" ? 0.5 : cut.edge === "a" ? 0 : 1,
    cut_words: [where, stubWords(a, cut.stub_a), stubWords(z, cut.stub_z)],
    edges: cut.marks ? [say`mark ${mark(cut.marks.from)}`, say`mark ${mark(cut.marks.to)}`] : [null, null],
    window: opened_before
      ? say`in the opening that is there`
      : say`window ${formatLength(window_m, "m", 1)}, edges as worked out: the sheath decides`,
    case: own.case,
    lateral: say`${own.lateral.tag} to ${own.lateral.to?.tag ?? say`its far end`}`,
  };
}

const stubWords = (end: string, stub: OpeningKept["cut"]["stub_a"]): string =>
  stub === "yes"
    ? say`towards ${end} glass is left to splice`
    : stub === "no"
      ? say`towards ${end} none is left to splice`
      : say`towards ${end}: whether glass is left is to be looked at`;
