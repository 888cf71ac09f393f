/** A cable schedule: a cable a row, with where it runs from and to. */

import { countsOfType } from "../../act/cable-design.ts";
import { FIBRE_CLASSES } from "../../model/lists.ts";
import { fieldWords } from "../../model/wording.ts";
import { resolve } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { RowCells } from "../row-cells.ts";
import type { RowActs, Shape } from "../shape.ts";
import { courseOf, doubtCourse } from "./cable-course.ts";
import { sheathOf, sheathOnRecord } from "./cable-length.ts";

const UNITS = { m: "metres", ft: "feet" } as const;

export const cables: Shape = {
  name: "cables",
  title: say`cable schedule`,
  help: say`A cable a row: number, type, strands, from where to where.`,
  columns: [
    {
      ...{ name: "tag", heading: "cable", label: say`cable`, help: say`The cable's number.`, needed: true },
      also: ["cable no", "cable number", "cable id", "tag", "number", "cable tag"],
    },
    {
      ...{ name: "from", heading: "from", label: say`from`, help: say`The place of its end A.`, names: "space" },
      also: ["end a", "a end", "from room", "from space", "from location", "origin"],
    },
    {
      ...{ name: "to", heading: "to", label: say`to`, help: say`The place of its end B.`, names: "space" },
      also: ["end b", "b end", "to room", "to space", "to location", "destination"],
    },
    {
      name: "via",
      names: "course",
      heading: "via",
      label: say`via`,
      help: say`Places between, or the pathways and conduits it lies in, in order, parted by commas.`,
      also: ["route", "holes", "through", "pathways", "conduits", "ducts", "ways"],
    },
    {
      name: "type",
      heading: "type",
      label: say`type`,
      help: say`Its data sheet, by the type's tag.`,
      also: ["cable type", "make", "model"],
    },
    {
      ...{ name: "strands", heading: "strands", label: say`strands`, help: say`How many strands it has.` },
      also: [
        ...["fibers", "fibres", "count", "strand count", "fiber count", "fibre count", "no of strands"],
        ...["no of fibers", "no of fibres", "number of strands", "number of fibers", "number of fibres"],
      ],
    },
    {
      ...{
        name: "per_tube",
        heading: "strands a tube",
        label: say`strands a tube`,
        help: say`How many lie in each tube, where no type says.`,
      },
      also: ["per tube", "strands per tube", "fibers per tube", "fibres per tube"],
    },
    {
      ...{
        name: "fibre_class",
        heading: "fibre class",
        label: say`fibre class`,
        help: say`Such as OS2 or OM4, where no type says.`,
      },
      also: ["class", "fiber class", "fiber type", "fibre type"],
    },
    {
      name: "mark_from",
      heading: "mark at from",
      label: say`mark at from`,
      help: say`The sheath mark at end A, as printed.`,
      unit: "mark",
      also: ["mark a", "start mark", "mark from", "mark start", "mark at a", "mark out"],
    },
    {
      name: "mark_to",
      heading: "mark at to",
      label: say`mark at to`,
      help: say`The sheath mark at end B, as printed.`,
      unit: "mark",
      also: ["mark b", "end mark", "mark to", "mark end", "mark at b", "mark in"],
    },
    {
      name: "mark_unit",
      heading: "marks in",
      label: say`marks in`,
      help: say`Metres or feet, as printed on the sheath.`,
      also: ["mark unit"],
    },
    {
      ...{
        name: "slack_from",
        heading: "slack at from",
        label: say`slack at from`,
        help: say`Length coiled at end A.`,
        unit: "length",
      },
      also: ["slack a", "slack from", "coil a"],
    },
    {
      ...{
        name: "slack_to",
        heading: "slack at to",
        label: say`slack at to`,
        help: say`Length coiled at end B.`,
        unit: "length",
      },
      also: ["slack b", "slack to", "coil b"],
    },
    {
      ...{ name: "length", heading: "length", label: say`length`, unit: "length" },
      help: say`Sheath from one end to the other, coils included: kept where no marks tell it and no places lie between.`,
      also: ["cable length", "sheath length", "total length", "length m", "length ft", "length feet", "length metres"],
    },
    {
      name: "name",
      heading: "name",
      label: say`name`,
      help: say`What it is called.`,
      also: ["cable name", "description"],
    },
    {
      name: "installed_on",
      heading: "installed on",
      label: say`installed on`,
      help: say`The day.`,
      also: ["installed", "install date", "date"],
    },
    {
      name: "owner",
      heading: "owner",
      label: say`owner`,
      help: say`Whose it is, by the party's short name.`,
      also: ["owned by"],
    },
    {
      name: "notes",
      heading: "notes",
      label: say`notes`,
      help: say`Anything else.`,
      also: ["remark", "remarks", "note", "comment", "comments"],
    },
  ],
  claims: (cells) => cells.text("tag") ?? null,
  claimed: "cable",
  read: async (reader, cells) => {
    const tag = cells.needed("tag");
    if (tag === "") return null;
    const [known] = (await resolve(reader, tag, { kinds: ["cable"] })).filter(({ how }) => how !== "former");
    if (known && known.tag.toUpperCase() !== tag.toUpperCase())
      cells.doubt(say`${tag} is taken for ${known.tag}, which is on record.`);
    return known ? differing(reader, cells, known.id, known.tag) : entered(reader, cells, tag);
  },
};

async function entered(reader: Reader, cells: RowCells, tag: string): Promise<RowActs | null> {
  const [from, to] = [cells.text("from"), cells.text("to")];
  if ((from === undefined) !== (to === undefined)) {
    cells.problem(
      from === undefined ? "from" : "to",
      say`is empty; a cable with one end is not laid, a cable without is in stock`,
    );
  }
  const unit = cells.choice("mark_unit", UNITS) ?? cells.unitOf("mark_from") ?? cells.unitOf("mark_to");
  const type = cells.text("type");
  const course = from === undefined || to === undefined ? [] : await courseOf(reader, cells, from, to);
  const [mark_out, mark_in] = [cells.mark("mark_from"), cells.mark("mark_to")];
  const [out_m, in_m] = [cells.length_m("slack_from"), cells.length_m("slack_to")];
  const { leg_m, words } = sheathOf(cells, {
    legs: Math.max(0, course.length - 1),
    marked: unit !== undefined && mark_out !== undefined && mark_in !== undefined,
    coiled_m: (out_m ?? 0) + (in_m ?? 0),
  });
  const sheath = leg_m === undefined ? {} : { length_m: leg_m, length_basis: "measured" };
  const stops = course.map(({ space, way }, at) =>
    given({
      space,
      ...(at === 0 ? { mark_out, slack_m: out_m } : {}),
      ...(at === course.length - 1 ? { mark_in, slack_m: in_m } : {}),
      way: way || (at === 0 && leg_m !== undefined) ? { ...way, ...(at === 0 ? sheath : {}) } : undefined,
    }),
  );
  const units = unitsOf(cells, type, type === undefined ? null : await countsOfType(reader, type));
  return {
    words: say`Enter cable ${tag}${from ? say` from ${from} to ${to}` : say` in stock`}${words}`,
    acts: [
      {
        name: "cable.enter",
        input: given({
          tag,
          type,
          units,
          mark_unit: unit,
          name: cells.text("name"),
          installed_on: cells.day("installed_on"),
          owner: cells.text("owner"),
          notes: cells.text("notes"),
          life: from === undefined ? "in_stock" : undefined,
          stops,
        }),
      },
    ],
  };
}

/** Fields that aren't empty. */
const given = (fields: Readonly<Record<string, unknown>>): Record<string, unknown> =>
  Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined));

/** The inside of the cable where no type says it, or says it otherwise. */
function unitsOf(cells: RowCells, type: string | undefined, ofType: Awaited<ReturnType<typeof countsOfType>>): unknown {
  const typed = type !== undefined;
  const strands = cells.whole("strands");
  const each = cells.whole("per_tube");
  const fibre_class = cells.choice("fibre_class", FIBRE_CLASSES);
  const lacks = (name: string, reason: string) => {
    if (!typed && cells.text(name) === undefined) cells.problem(name, reason);
  };
  lacks("strands", say`is empty, and no type says how many it has`);
  lacks("per_tube", say`is empty, and no type says how the strands lie`);
  if (ofType && strands !== undefined && each === undefined && strands !== ofType.strands)
    cells.problem("strands", say`is ${strands}; type ${type} has ${ofType.strands}, and nothing says how they lie`);
  if (strands === undefined || each === undefined) return undefined;
  if (strands === ofType?.strands && each === ofType.each && fibre_class === undefined) return undefined;
  if (strands < 1 || each < 1 || strands % each !== 0) {
    cells.problem("per_tube", say`is ${each}; ${strands} strands can't be divided so`);
    return undefined;
  }
  return [given({ kind: "tube", repeats: strands / each, strands: each, fibre_class })];
}

interface CableRow {
  readonly name: string | null;
  readonly installed_on: string | null;
  readonly notes: string | null;
  readonly type: string | null;
  readonly owner: string | null;
  readonly strands: number;
}

/** What the sheet says otherwise of a cable on record; its run and glass are changed by acts of their own. */
async function differing(reader: Reader, cells: RowCells, id: number, tag: string): Promise<RowActs> {
  const [row] = await reader.rows<CableRow>(
    `select c.name, c.installed_on, c.notes, t.tag as type, p.tag as owner,
       (select count(*) from strand where cable_id = c.id) as strands
     from cable c left join cable_type t on t.id = c.type_id left join party p on p.id = c.owner_id where c.id = ?`,
    [id],
  );
  const strands = cells.whole("strands");
  if (row && strands !== undefined && strands !== row.strands)
    cells.problem("strands", say`is ${strands}; ${tag} has ${row.strands} on record`, tag);
  await doubtCourse(reader, cells, id, tag);
  const asked = {
    name: cells.text("name"),
    installed_on: cells.day("installed_on"),
    notes: cells.text("notes"),
    type_id: cells.text("type"),
    owner_id: cells.text("owner"),
  };
  const now = { ...row, type_id: row?.type, owner_id: row?.owner } as Readonly<Record<string, unknown>>;
  const values = Object.fromEntries(
    Object.entries(asked).filter(([field, value]) => value !== undefined && value !== now[field]),
  );
  const sheath = await sheathOnRecord(reader, cells, id);
  const fields = [...Object.keys(values), ...(sheath.act ? ["length"] : [])];
  if (fields.length === 0) return { words: say`Cable ${tag} is on record${sheath.words}`, acts: [] };
  const named = fields.map((field) => (field === "length" ? say`length` : fieldWords("cable", field))).join(", ");
  return {
    words: say`Change cable ${tag}: ${named}${sheath.words}`,
    acts: [
      ...(Object.keys(values).length > 0 ? [{ name: "record.edit", input: { kind: "cable", id, values } }] : []),
      ...(sheath.act ? [sheath.act] : []),
    ],
  };
}
