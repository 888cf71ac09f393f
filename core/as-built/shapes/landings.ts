/** A landing list: which strand lies on the back of which port. */
import { CARRIES } from "../../glass/glass.ts";
import { KINDS } from "../../model/dictionary.ts";
import { resolvePorts, resolveStrands } from "../../store/addresses.ts";
import { say } from "../../words/say.ts";
import type { Shape } from "../shape.ts";
import { strandText } from "./strand-text.ts";

export const landings: Shape = {
  name: "landings",
  title: say`landing list`,
  help: say`A port or a range of ports a row, and the strands that land on it.`,
  columns: [
    {
      ...{
        name: "port",
        heading: "port",
        label: say`port`,
        help: say`Such as LIB/101/A:07 or LIB/101/A:01-12.`,
        needed: true,
        names: "port",
      },
      also: ["ports", "panel port", "position", "port no", "port number"],
      under: "panel",
    },
    {
      name: "panel",
      heading: "panel",
      label: say`panel`,
      help: say`Where the port's cell doesn't name it.`,
      also: ["patch panel", "panel no", "frame"],
    },
    {
      ...{
        name: "strand",
        heading: "strand",
        label: say`strand`,
        help: say`Such as F-012:25 or F-012 1-24.`,
        needed: true,
      },
      also: ["strands", "fiber", "fibre", "fibers", "fibres", "cable strand"],
    },
    {
      name: "cable",
      heading: "cable",
      label: say`cable`,
      help: say`Where the strand's cell doesn't name it.`,
      also: ["cable no", "cable number"],
    },
    {
      name: "method",
      heading: "how",
      label: say`how`,
      help: say`How it is terminated.`,
      also: ["method", "termination"],
    },
    {
      name: "tray",
      heading: "tray",
      label: say`tray`,
      help: say`The tray of the pigtails.`,
      names: "tray",
      also: ["splice tray"],
    },
    { name: "loss_db", heading: "loss", label: say`loss`, help: say`In decibels.`, also: ["loss db", "db"] },
    { name: "made_on", heading: "made on", label: say`made on`, help: say`The day.`, also: ["date"] },
    { name: "made_by", heading: "made by", label: say`made by`, help: say`Who made it.`, also: ["by", "technician"] },
    {
      name: "notes",
      heading: "notes",
      label: say`notes`,
      help: say`Anything else.`,
      also: ["remark", "remarks", "note", "comment", "comments"],
    },
  ],
  claims: (cells) => cells.text("port") ?? null,
  read: async (_, cells) => {
    const strands = strandText(cells, "cable", "strand");
    const ports = cells.needed("port");
    const input = {
      ...{ strands, ports, method: cells.choice("method", KINDS.termination.fields.method.values) },
      ...{ tray: cells.text("tray"), loss_db: cells.number("loss_db"), made_on: cells.day("made_on") },
      ...{ made_by: cells.text("made_by"), notes: cells.text("notes") },
    };
    return { words: say`Land ${strands} on ${ports}`, acts: [{ name: "strand.land", input }] };
  },
  onRecord: async (reader, cells) => {
    const { strands } = await resolveStrands(reader, strandText(cells, "cable", "strand"), { field: "strand" });
    const ports = await resolvePorts(reader, cells.needed("port"), { field: "port" });
    const list = (ids: readonly number[]) => JSON.stringify(ids);
    const [found] = await reader.rows<{ n: number }>(
      `select count(distinct s.strand_id) as n from termination t
       join section s on s.id = t.section_id join position p on p.id = t.position_id
       where t.life in ${CARRIES} and s.strand_id in (select value from json_each(?))
         and p.port_id in (select value from json_each(?))`,
      [list(strands.map(({ id }) => id)), list(ports.map(({ id }) => id))],
    );
    return found?.n === strands.length;
  },
};
