/** A port-to-port list: a cord a row. */
import { CARRIES } from "../../glass/glass.ts";
import { resolvePorts } from "../../store/addresses.ts";
import { say } from "../../words/say.ts";
import type { Shape } from "../shape.ts";

export const cords: Shape = {
  name: "cords",
  title: say`port-to-port list`,
  help: say`A cord a row: from one port to another.`,
  columns: [
    {
      ...{
        name: "from",
        heading: "from port",
        label: say`from port`,
        help: say`Such as LIB/101/A:07.`,
        needed: true,
        names: "port",
      },
      also: ["from", "port a", "a port", "end a", "a end"],
      under: "from_panel",
    },
    {
      name: "from_panel",
      heading: "from panel",
      label: say`from panel`,
      help: say`The panel or equipment of that port, where its cell doesn't name it.`,
      also: ["panel a", "a panel", "from device", "device a", "from equipment"],
    },
    {
      ...{
        name: "to",
        heading: "to port",
        label: say`to port`,
        help: say`The port of its other end.`,
        needed: true,
        names: "port",
      },
      also: ["to", "port b", "b port", "end b", "b end"],
      under: "to_panel",
    },
    {
      name: "to_panel",
      heading: "to panel",
      label: say`to panel`,
      help: say`The panel or equipment of that port, where its cell doesn't name it.`,
      also: ["panel b", "b panel", "to device", "device b", "to equipment"],
    },
    {
      name: "tag",
      heading: "cord",
      label: say`cord`,
      help: say`The cord's number.`,
      also: ["cord no", "cord number", "patch cord", "jumper"],
    },
    {
      name: "length_m",
      heading: "length",
      label: say`length`,
      help: say`The cord's length.`,
      unit: "length",
      also: ["cord length"],
    },
    { name: "colour", heading: "colour", label: say`colour`, help: say`The cord's colour.`, also: ["color"] },
    {
      name: "notes",
      heading: "notes",
      label: say`notes`,
      help: say`Anything else.`,
      also: ["remark", "remarks", "note", "comment", "comments"],
    },
  ],
  claims: (cells) => cells.text("tag") ?? cells.text("from") ?? null,
  read: async (_, cells) => {
    const [from, to] = [cells.needed("from"), cells.needed("to")];
    const input = {
      ...{ from, to, tag: cells.text("tag"), length_m: cells.length_m("length_m") },
      ...{ colour: cells.text("colour"), notes: cells.text("notes") },
    };
    return { words: say`Patch ${from} to ${to}`, acts: [{ name: "cord.patch", input }] };
  },
  onRecord: async (reader, cells) => {
    const [a, b] = [
      (await resolvePorts(reader, cells.needed("from"), { field: "from" }))[0]?.id,
      (await resolvePorts(reader, cells.needed("to"), { field: "to" }))[0]?.id,
    ];
    const rows = await reader.rows<{ tag: string | null }>(
      `select tag from cord where life in ${CARRIES} and (a_port_id = ?1 and b_port_id = ?2 or a_port_id = ?2 and b_port_id = ?1)`,
      [a ?? 0, b ?? 0],
    );
    const tag = cells.text("tag");
    return rows.some((row) => tag === undefined || row.tag === tag);
  },
};
