/** What a packet says of light: the equipment to be switched off before glass is touched, and what to measure when it is done. */
import { formatLength, formatNumber } from "../model/units.ts";
import { choiceWords } from "../model/wording.ts";
import type { Block, Cell } from "../paper/document.ts";
import type { Expected } from "../repair/expected.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Packet } from "./packet.ts";

const MOST = 8;
const some = (tags: readonly string[]): string =>
  tags.length > MOST ? say`${tags.slice(0, MOST).join(", ")} and ${tags.length - MOST} more` : tags.join(", ");

export function switchOff({ light: { equipment, unseen } }: Packet): Block[] {
  if (equipment.length === 0 && unseen.length === 0) return [];
  const blocks: Block[] = [{ is: "heading", level: 1, text: say`Switch off, or unplug, before glass is touched` }];
  if (equipment.length > 0) {
    blocks.push({
      is: "table",
      caption: say`Equipment that shines into these strands, as the record traces them`,
      columns: [
        { head: say`Port`, weight: 2.2 },
        { head: say`Place`, weight: 1 },
        { head: say`What it is`, weight: 2.4 },
        { head: say`Strands`, weight: 1.3 },
        { head: say`Circuit`, weight: 1.2 },
        { head: say`Off at, by`, weight: 1.6 },
      ],
      rows: equipment.map(({ port, place, words, strands, circuits }): Cell[] => [
        port.tag,
        place?.tag ?? null,
        words,
        strands,
        some(circuits.map(({ tag }) => tag)),
        { write: true },
      ]),
    });
  }
  for (const { place, strands, count, ports, circuits } of unseen) {
    const on = circuits.length > 0 ? say` Circuits on them: ${some(circuits.map(({ tag }) => tag))}.` : "";
    const at = ports.length > 0 ? say`, ports ${some(ports)}` : "";
    blocks.push({
      is: "note",
      sign: "caution",
      text: plural(
        count,
        "One strand leads to {1}{2}, and the record doesn't say what is plugged in there: {3}. Look, and take them for lit until they are measured dark.{4}",
        "{0} strands lead to {1}{2}, and the record doesn't say what is plugged in there: {3}. Look, and take them for lit until they are measured dark.{4}",
        place?.tag ?? say`a place not on record`,
        at,
        strands,
        on,
      ),
    });
  }
  return blocks;
}

/** What is measured when the strands of a circuit are joined, and the hour at which it is back; the most urgent first. */
export function circuitBlocks({ situations, circuits }: Packet): Block[] {
  const expected = situations.flatMap((one) => one.expected ?? []);
  const told = expected.filter(({ why_not }) => why_not === null);
  const measured = new Set(told.map(({ circuit }) => circuit.id));
  const others = circuits.filter(({ circuit }) => !measured.has(circuit.id));
  const blocks: Block[] = [];
  if (told.length > 0) blocks.push(...measureTable(told, circuits));
  if (others.length > 0) {
    blocks.push({
      is: "table",
      caption:
        told.length > 0 ? say`Further circuits on this glass` : say`Circuits on this glass, the most urgent first`,
      columns: [
        { head: say`Priority`, numeric: true },
        { head: say`Circuit`, weight: 2 },
        { head: say`Whose`, weight: 2 },
        { head: say`Back at`, weight: 2 },
      ],
      rows: others.map(({ circuit, priority, owner }): Cell[] => [
        priority === null ? "" : String(priority),
        circuit.tag,
        owner?.tag ?? say`the plant's own`,
        { write: true },
      ]),
    });
  }
  for (const { circuit, why_not } of expected)
    if (why_not !== null)
      blocks.push({ is: "note", sign: "note", text: say`${circuit.tag}: nothing can be expected, for ${why_not}.` });
  const title = told.length > 0 ? say`When a circuit's strands are joined` : say`Circuits`;
  return blocks.length === 0 ? [] : [{ is: "heading", level: 1, text: title }, ...blocks];
}

function measureTable(told: readonly Expected[], circuits: Packet["circuits"]): Block[] {
  const db = (value: number | null): Cell => (value === null ? say`not known` : `${formatNumber(value, 2)} dB`);
  const byId = new Map(circuits.map((one) => [one.circuit.id, one]));
  return [
    {
      is: "table",
      caption: say`Circuits on this glass, the most urgent first. Measure from these ports, both ways, cords to equipment unplugged; plug them in again, and write down when it is back`,
      columns: [
        { head: say`Priority`, numeric: true, weight: 0.9 },
        { head: say`Circuit`, weight: 1.9 },
        { head: say`Strands`, numeric: true, weight: 0.9 },
        { head: say`From`, weight: 1.5 },
        { head: say`To`, weight: 1.5 },
        { head: say`Glass`, numeric: true, weight: 1 },
        { head: say`At`, numeric: true, weight: 1.1 },
        { head: say`Should lose`, numeric: true, weight: 1.1 },
        { head: say`At most`, numeric: true, weight: 1.1 },
        // As wide as a figure takes that is written by hand.
        { head: say`Read`, weight: 1.5 },
        { head: say`Back at`, weight: 1.5 },
      ],
      rows: told.map(
        ({
          circuit,
          state,
          priority,
          strands,
          ports: [from, to],
          length_m,
          glass_m,
          wavelength_nm,
          loss_db,
          worst_db,
        }): Cell[] => {
          const live = state === undefined || state === "in_service";
          const owner = byId.get(circuit.id)?.owner;
          return [
            priority === null ? "" : String(priority),
            [
              live ? circuit.tag : `${circuit.tag} (${choiceWords("circuit", "state", state)})`,
              ...(owner ? [say`of ${owner.tag}`] : []),
            ],
            formatNumber(strands),
            from?.tag ?? say`no port on record`,
            to?.tag ?? say`no port on record`,
            glass_m !== null
              ? formatLength(glass_m, "m", 0)
              : length_m !== null
                ? [formatLength(length_m, "m", 0), say`of sheath`]
                : say`not known`,
            wavelength_nm === null ? null : `${wavelength_nm} nm`,
            db(loss_db),
            db(worst_db),
            { write: true },
            live ? { write: true } : "",
          ];
        },
      ),
    },
    {
      is: "note",
      sign: "note",
      text: say`Losses are from port to port with both end connectors, by one reference cord: usual values, and limits in use. The glass is longer than the sheath by its excess; an instrument shows the glass.`,
    },
  ];
}
