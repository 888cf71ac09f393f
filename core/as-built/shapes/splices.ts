/** A splice matrix: tray, position, the strand of one cable, the strand of the other. */
import { CARRIES } from "../../glass/glass.ts";
import { resolveStrands } from "../../store/addresses.ts";
import type { Shape } from "../shape.ts";
import { strandText } from "./strand-text.ts";

const METHODS = { fusion: "fusion", mechanical: "mechanical" } as const;

export const splices: Shape = {
  name: "splices",
  title: "splice matrix",
  help: "A splice a row, or a range a row: tray, position, strands of cable A, strands of cable B.",
  columns: [
    {
      ...{ name: "from", label: "cable A strand", help: "Such as F-014:25 or F-014 25-36.", needed: true },
      also: [
        "strand a",
        "a strand",
        "from strand",
        "fiber a",
        "fibre a",
        "cable a fiber",
        "cable a fibre",
        "strands a",
        "from",
      ],
    },
    {
      ...{ name: "to", label: "cable B strand", help: "As many strands.", needed: true },
      also: [
        "strand b",
        "b strand",
        "to strand",
        "fiber b",
        "fibre b",
        "cable b fiber",
        "cable b fibre",
        "strands b",
        "to",
      ],
    },
    {
      name: "from_cable",
      label: "cable A",
      help: "Where the strand's cell doesn't name it.",
      also: ["a cable", "from cable"],
    },
    {
      name: "to_cable",
      label: "cable B",
      help: "Where the strand's cell doesn't name it.",
      also: ["b cable", "to cable"],
    },
    { name: "tray", label: "tray", help: "The splice tray, such as MH-03/CL-1/T2.", also: ["splice tray"] },
    { name: "place", label: "position", help: "Its place in the tray.", also: ["pos", "place", "slot"] },
    {
      name: "at",
      label: "at",
      help: "The space, where nobody knows the tray.",
      names: "space",
      also: ["location", "hole", "space"],
    },
    { name: "method", label: "method", help: "Fusion or mechanical.", also: ["splice type"] },
    { name: "loss_ab_db", label: "loss A to B", help: "In decibels.", also: ["loss", "loss db", "loss ab", "db"] },
    { name: "loss_ba_db", label: "loss B to A", help: "In decibels.", also: ["loss ba"] },
    { name: "made_on", label: "made on", help: "The day.", also: ["date", "spliced on"] },
    { name: "made_by", label: "made by", help: "Who spliced it.", also: ["by", "splicer", "technician"] },
    { name: "notes", label: "notes", help: "Anything else.", also: ["remarks", "comment", "comments"] },
  ],
  claims: (cells) => {
    const [cable, strand] = [cells.text("from_cable"), cells.text("from")];
    const named = cable === undefined ? strand : `${cable}:${strand}`;
    return strand === undefined ? null : `${named} in ${cells.text("tray") ?? cells.text("at") ?? "an unnamed place"}`;
  },
  read: async (_, cells) => {
    const from = strandText(cells, "from_cable", "from");
    const to = strandText(cells, "to_cable", "to");
    const [tray, at] = [cells.text("tray"), cells.text("at")];
    if (tray === undefined && at === undefined) cells.problem("tray", "is empty, and no place stands in its stead");
    const input = {
      ...{ from, to, ...(tray === undefined ? { at } : { tray }), first_place: cells.whole("place") },
      method: cells.choice("method", METHODS),
      ...{ loss_ab_db: cells.number("loss_ab_db"), loss_ba_db: cells.number("loss_ba_db") },
      ...{ made_on: cells.day("made_on"), made_by: cells.text("made_by"), notes: cells.text("notes") },
    };
    return { words: `Splice ${from} to ${to} in ${tray ?? at ?? "?"}`, acts: [{ name: "splice.range", input }] };
  },
  onRecord: async (reader, cells) => {
    const from = (await resolveStrands(reader, strandText(cells, "from_cable", "from"), { field: "from" })).strands;
    const to = (await resolveStrands(reader, strandText(cells, "to_cable", "to"), { field: "to" })).strands;
    if (from.length !== to.length) return false;
    const pairs = JSON.stringify(from.map(({ id }, i) => [id, to[i]?.id]));
    const [found] = await reader.rows<{ n: number }>(
      `select count(distinct pair.key) as n from json_each(?) pair
       join section a on a.strand_id = json_extract(pair.value, '$[0]')
       join section b on b.strand_id = json_extract(pair.value, '$[1]')
       join splice s on s.life in ${CARRIES}
         and (s.a_section_id = a.id and s.b_section_id = b.id or s.a_section_id = b.id and s.b_section_id = a.id)`,
      [pairs],
    );
    return found?.n === from.length;
  },
};
