/** Places of a job as somebody sees them who has never been there: walls from inside, and how the cables of the job come by. */
import { KINDS, type Row } from "../model/dictionary.ts";
import { wasMade } from "../model/labelled.ts";
import { formatLength, formatNumber } from "../model/units.ts";
import type { Block } from "../paper/document.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type Hole, type HoleCable, hasWalls, holeOf, lookWords, wallsOf, wallWords } from "./hole-facts.ts";

/** @param cables those of the job, by their tags; of others only where they lie is drawn */
export async function holePictures(
  reader: Reader,
  spaces: readonly RecordRef[],
  cables: ReadonlySet<string>,
): Promise<Block[]> {
  const blocks: Block[] = [];
  for (const space of spaces) {
    const hole = await holeOf(reader, space);
    const own = hole.cables.filter(({ cable }) => cables.has(cable.tag));
    if (own.length === 0) continue;
    blocks.push({ is: "heading", level: 2, text: lookWords(hole, space.tag) });
    const walls = hasWalls(hole) ? wallsOf(hole).filter(({ windows }) => windows.length > 0) : [];
    if (walls.length > 0) blocks.push({ is: "walls", drawing: { walls } });
    const rows = [];
    for (const one of own) {
      const labels = await labelsAt(reader, one.cable.id, space.id);
      rows.push({ word: say`Know ${one.cable.tag} by`, value: signsOf(hole, one, labels) });
    }
    blocks.push({ is: "values", rows });
  }
  return blocks.length === 0
    ? []
    : [{ is: "heading", level: 1, text: say`What each place looks like, and how to know the cable` }, ...blocks];
}

/** What stands on the labels of a cable there, and those that somebody found missing or could not read. */
async function labelsAt(reader: Reader, cable: number, space: number): Promise<string[]> {
  const rows = await reader.rows<Pick<Row<"label">, "text" | "text_read" | "state" | "printed_on" | "basis">>(
    `select text, text_read, state, printed_on, basis from label where subject_kind = 'cable' and subject_id = ? and space_id = ? order by id`,
    [cable, space],
  );
  return rows.map(({ text, text_read, state, printed_on, basis }) => {
    if (state === "missing") return say`no label: it was missing when somebody looked`;
    if (state === "illegible") return say`a label that nobody can read any more`;
    const words = (text_read ?? text ?? "").split("\n").filter(Boolean).join(" / ");
    if (state !== null) return say`its label: ${words}`;
    return wasMade({ text_read, state, printed_on, basis })
      ? say`a label, not seen yet: ${words}`
      : say`a label that is only written down, to be printed: ${words}`;
  });
}

/** What can be seen of a cable where it passes: its label; its print, coil and strands; the pipes it comes and goes by. */
function signsOf(hole: Hole, one: HoleCable, labels: readonly string[]): string[] {
  const { marks, mark_unit, before, beyond, coil_m, storage, strands } = one;
  const unit = mark_unit === null ? "" : ` ${mark_unit}`;
  const itself = [
    marks.length > 0
      ? say`the print on its sheath: ${marks.map((mark) => formatNumber(mark, 1)).join(say` and `)}${unit}`
      : say`no marks of it on record here`,
    ...(coil_m === null || coil_m === 0 ? [] : [coilWords(coil_m, storage)]),
    ...(strands > 0 ? [say`${counted(strands, "strand")} in it`] : []),
  ];
  return [
    ...(labels.length > 0 ? labels : [say`no label of it on record here`]),
    itself.join("; "),
    ...(before === null ? [] : [say`comes from ${before}${windowOf(hole, one.pipe_before)}`]),
    ...(beyond === null ? [] : [say`goes on to ${beyond}${windowOf(hole, one.pipe_beyond)}`]),
  ];
}

const coilWords = (coil_m: number, storage: HoleCable["storage"]): string =>
  storage === null
    ? say`${formatLength(coil_m, "m", 1)} of it coiled`
    : say`${formatLength(coil_m, "m", 1)} of it kept as ${KINDS.stop.fields.storage.values[storage]}`;

/** In which wall its pipe is, and where in the bank, as one sees it from inside. */
function windowOf(hole: Hole, conduit: number | null): string {
  for (const way of hole.ways) {
    const pipe = way.pipes.find((one) => one.conduit.id === conduit);
    if (!pipe) continue;
    const wall =
      way.wall === null || !hasWalls(hole) ? "" : say`, ${wallWords(way.wall)}${way.by_map ? say`, by the map` : ""}`;
    const outer = pipe.inside === null ? pipe : way.pipes.find((one) => one.conduit.id === pipe.inside?.id);
    const spot =
      outer && outer.row !== null && outer.seen_column !== null
        ? say`, row ${outer.row} from the top, column ${outer.seen_column} from the left`
        : "";
    return `${wall}${spot}${pipe.colour === null ? "" : say`, ${pipe.colour} pipe`}`;
  }
  return "";
}
