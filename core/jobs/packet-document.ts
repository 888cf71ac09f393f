/** A job's packet as a document: from it alone, a crew that never saw the plant does the work. */

import { formatLength } from "../model/units.ts";
import { type Block, type Cell, codeOf, type Document } from "../paper/document.ts";
import { asNotes } from "../paper/notes.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { Packet } from "./packet.ts";
import { circuitBlocks, switchOff } from "./packet-light-blocks.ts";
import type { PacketBreak, PacketPlace, PacketSpot } from "./packet-places.ts";
import { sheetBlocks } from "./packet-sheet-blocks.ts";
import { cutBlocks, facts, factsOfCuts, knownWords } from "./packet-situation.ts";
import { stepBlocks } from "./packet-steps.ts";

const metres = (value: number): string => formatLength(value, "m", 1);

/** What other questions of the record draw for a packet. */
export interface Pictures {
  /** The line of each cable that is opened, where no cut is mended. */
  readonly lines: readonly Block[];
  /** Of the ground from above, with the places and the break. */
  readonly ground: readonly Block[];
  /** Of the places in which it is done, each from inside. */
  readonly holes: readonly Block[];
}

/** @param revision the record's, so that a paper can be held against what was recorded since */
export function packetDocument(
  packet: Packet,
  revision: number | null,
  who: string | null,
  pictures: Pictures = { lines: [], ground: [], holes: [] },
): Document {
  const { job } = packet;
  const cuts = factsOfCuts(packet);
  return {
    paper: "document",
    title: {
      what: say`Packet for job ${job.tag}`,
      plant: packet.plant,
      made_on: packet.today,
      revision,
      who,
      code: codeOf("job", job.tag),
    },
    blocks: [
      ...asNotes(packet.cautions),
      ...packet.left_out.map(
        ({ cable, reason, doubtful }): Block => ({
          is: "note",
          sign: "danger",
          text: doubtful
            ? say`${cable.tag} is not in this job and may carry light there: ${cable.tag} ${reason}.`
            : say`${cable.tag} is cut there too and is not in this job: leave it as it lies. ${sentenceOf(reason)}`,
        }),
      ),
      ...owners(packet),
      { is: "heading", level: 1, text: knownWords(packet) },
      { is: "values", rows: [...facts(packet), ...cuts.common] },
      ...packet.mends.flatMap((one, index): Block[] => [
        ...(packet.mends.length > 1
          ? [{ is: "heading", level: 2, text: say`The cut of ${one.situation.cable.tag}` } as const]
          : []),
        { is: "values", rows: cuts.each[index] ?? [] },
        ...cutBlocks(one.situation),
      ]),
      ...pictures.lines,
      ...clashes(packet),
      ...switchOff(packet),
      ...places(packet),
      ...pictures.ground,
      ...pictures.holes,
      ...stepBlocks(packet),
      ...sheetBlocks(packet),
      ...circuitBlocks(packet),
      { is: "heading", level: 1, text: say`Done and signed` },
      { is: "paragraph", text: say`What differed from the plan, and what is left in which hole:` },
      {
        is: "table",
        caption: null,
        columns: [
          { head: say`Place`, weight: 1 },
          { head: say`What`, weight: 3 },
        ],
        rows: Array.from({ length: 6 }, (): Cell[] => [{ write: true }, { write: true }]),
      },
      { is: "sign", roles: [say`Spliced by`, say`Measured by`, say`Entered on the record by`] },
    ],
  };
}

const sentenceOf = (words: string): string =>
  `${words.charAt(0).toUpperCase()}${words.slice(1)}${words.endsWith(".") ? "" : "."}`;

function owners({ owners: all }: Packet): Block[] {
  if (all.length === 0) return [];
  return [
    { is: "heading", level: 1, text: say`Whom to call` },
    {
      is: "table",
      caption: say`Owners in the broken way and of the circuits, and how to reach them`,
      columns: [
        { head: say`Who`, weight: 2 },
        { head: say`For`, weight: 2 },
        { head: say`By day`, weight: 2 },
        { head: say`By night`, weight: 2 },
      ],
      rows: all.map(({ party, name, role, day, night, of }): Cell[] => [
        name ? `${name} (${party.tag})` : party.tag,
        of.length > 0 ? listed(of.map(({ tag }) => tag)) : role === "self" ? say`the plant itself` : say`asking leave`,
        day,
        night,
      ]),
    },
  ];
}

const MOST = 8;
const listed = (tags: readonly string[]): string =>
  tags.length > MOST ? say`${tags.slice(0, MOST).join(", ")} and ${tags.length - MOST} more` : tags.join(", ");

const clashes = ({ clashes: all }: Packet): Block[] =>
  all.map(({ job, words, wanted }) => ({
    is: "note",
    sign: "caution",
    text: say`Job ${job.tag} wants the same ${words}: ${listed(wanted.map(({ tag }) => tag))}. Talk to each other first.`,
  }));

function places({ places: all, breaks }: Packet): Block[] {
  if (all.length + breaks.length === 0) return [];
  return [
    { is: "heading", level: 1, text: say`Places` },
    {
      is: "table",
      caption: null,
      columns: [
        { head: say`Place`, weight: 2.6 },
        { head: say`What it is`, weight: 2 },
        { head: say`On record as dangerous`, weight: 2.6 },
        { head: say`Key`, weight: 1.6 },
        { head: say`Where`, weight: 2.8 },
      ],
      rows: [
        ...breaks.map((one): Cell[] => [
          [say`The break`, say`of ${listed(one.cables.map(({ tag }) => tag))}`],
          one.kind,
          "",
          "",
          breakSpot(one),
        ]),
        ...all.map((one): Cell[] => [
          [one.place.tag, ...(one.name ? [one.name] : []), ...(one.building ? [say`in ${one.building}`] : [])],
          one.kind,
          one.hazards.length > 0 ? one.hazards.join(", ") : say`nothing on record`,
          one.key_holder ? (one.key_holder.name ?? one.key_holder.party.tag) : say`nobody on record`,
          spotOf(one),
        ]),
      ],
    },
    {
      is: "note",
      sign: "note",
      text: say`A coordinate is where the record puts the place; marks on the ground and on the sheath decide.`,
    },
  ];
}

function breakSpot({ pathway, from, from_m, spot }: PacketBreak): Cell {
  const along = say`${metres(from_m)} along ${pathway.tag} from ${from}`;
  return spot === null ? along : say`${along}; by the line of that way ${positionWords(spot)}`;
}

function positionWords({ latitude, longitude, accuracy_m }: PacketSpot): string {
  const off = accuracy_m === null ? say`accuracy not known` : `± ${metres(accuracy_m)}`;
  return `${latitude.toFixed(6)}, ${longitude.toFixed(6)} (${off})`;
}

function spotOf({ spot, along }: PacketPlace): Cell {
  if (!spot) return along;
  const there = positionWords(spot);
  return along === null ? there : say`${along}; by the line of that way ${there}`;
}

/** Places in which something is done to a cable: whoever enters them wants to know what is where. */
export const entered = ({ places: all }: Packet): RecordRef[] =>
  all.flatMap(({ place, steps }) => (steps > 0 ? [place] : []));

/** So many cables can be told from one another on one drawing. */
const DRAWN = 4;

/** What a crew looks for from above: the cables, or where there are too many the ways that are cut; the places, and the break. */
export const groundOf = ({ worked, situations, places: all, breaks }: Packet) => {
  const cut = [...new Set(situations.flatMap(({ pathway }) => pathway?.tag ?? []))];
  return {
    of: worked.length > DRAWN && cut.length > 0 ? cut : worked.slice(0, DRAWN).map(({ tag }) => tag),
    places: all,
    breaks: breaks.flatMap(({ spot }) => spot ?? []),
  };
};
