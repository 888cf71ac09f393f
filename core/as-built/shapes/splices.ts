/**
 * A splice matrix: tray, position, the strand of one cable, the strand of the other. A splice sheet that was filled in has
 * the same columns: what is spliced on record takes what the row says of it, and strands that stay unjoined ask for nothing.
 */
import { beyondCapacity, trayNamed } from "../../act/trays.ts";
import { KINDS } from "../../model/dictionary.ts";
import { say } from "../../words/say.ts";
import type { RowCells } from "../row-cells.ts";
import type { Shape } from "../shape.ts";
import { FATES, FATES_SAID, UNJOINED } from "./splice-fates.ts";
import { landedActs, type SaidOfJoint, splicedActs, unjoinedActs } from "./splices-on-record.ts";
import { strandText } from "./strand-text.ts";
import { trayText } from "./tray-text.ts";

const METHODS = { fusion: "fusion", mechanical: "mechanical" } as const;

export const splices: Shape = {
  name: "splices",
  title: say`splice matrix`,
  help: say`A splice a row, or a range a row: tray, position, strands of cable A, strands of cable B.`,
  columns: [
    {
      ...{
        name: "from",
        heading: "cable A strand",
        label: say`cable A strand`,
        help: say`Such as F-014:25 or F-014 25-36.`,
        needed: true,
      },
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
      ...{
        name: "to",
        heading: "cable B strand",
        label: say`cable B strand`,
        help: say`As many strands.`,
        needed: true,
      },
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
      heading: "cable A",
      label: say`cable A`,
      help: say`Where the strand's cell doesn't name it.`,
      also: ["a cable", "from cable"],
    },
    {
      name: "to_cable",
      heading: "cable B",
      label: say`cable B`,
      help: say`Where the strand's cell doesn't name it.`,
      also: ["b cable", "to cable"],
    },
    {
      ...{
        name: "tray",
        heading: "tray",
        label: say`tray`,
        help: say`The splice tray, such as MH-03/CL-1/T2, or its number with the place as “at”.`,
        names: "tray",
      },
      also: ["splice tray"],
    },
    {
      name: "place",
      heading: "position",
      label: say`position`,
      help: say`Its place in the tray.`,
      also: ["pos", "place", "slot"],
    },
    {
      name: "at",
      heading: "at",
      label: say`at`,
      help: say`The space, where nobody knows the tray.`,
      names: "space",
      also: ["location", "hole", "space"],
    },
    { name: "method", heading: "method", label: say`method`, help: say`Fusion or mechanical.`, also: ["splice type"] },
    {
      ...{
        name: "fate",
        heading: "fate",
        label: say`fate`,
        help: say`Spliced, landed, express, stored, no stub; spliced where left out.`,
      },
      also: [],
    },
    {
      name: "loss_ab_db",
      heading: "loss A to B",
      label: say`loss A to B`,
      help: say`In decibels.`,
      also: ["loss", "loss db", "loss ab", "db"],
    },
    { name: "loss_ba_db", heading: "loss B to A", label: say`loss B to A`, help: say`In decibels.`, also: ["loss ba"] },
    {
      name: "loss_basis",
      heading: "loss known by",
      label: say`loss known by`,
      help: say`The splicer's estimate, or how it was measured.`,
      also: [],
    },
    { name: "made_on", heading: "made on", label: say`made on`, help: say`The day.`, also: ["date", "spliced on"] },
    {
      name: "made_by",
      heading: "made by",
      label: say`made by`,
      help: say`Who spliced it.`,
      also: ["by", "splicer", "technician"],
    },
    {
      name: "notes",
      heading: "notes",
      label: say`notes`,
      help: say`Anything else.`,
      also: ["remark", "remarks", "note", "comment", "comments"],
    },
  ],
  seen: ["colours a", "colours b", "circuit"],
  claims: (cells) => {
    const [cable, strand] = [cells.text("from_cable"), cells.text("from")];
    const named = cable === undefined ? strand : `${cable}:${strand}`;
    return strand === undefined
      ? null
      : say`${named} in ${cells.text("tray") ?? cells.text("at") ?? say`an unnamed place`}`;
  },
  read: async (reader, cells) => {
    const fate = cells.choice("fate", FATES);
    const second = cells.text("to");
    if (fate === "landed") return landedActs(reader, cells, given(cells));
    if (fate !== undefined && UNJOINED.has(fate)) {
      if (second === undefined) return unjoinedActs(reader, cells, fate, FATES_SAID[fate]);
      cells.problem("fate", say`is ${FATES_SAID[fate]}, and ${cells.label("to")} is ${second}: it is one or the other`);
    }
    const from = strandText(cells, "from_cable", "from");
    const to = strandText(cells, "to_cable", "to");
    const [tray, at] = [await trayText(reader, cells), cells.text("at")];
    if (cells.text("tray") === undefined && at === undefined)
      cells.problem("tray", say`is empty, and no place stands in its stead`);
    const said = { ...given(cells), method: cells.choice("method", METHODS) };
    const place = cells.whole("place");
    const onRecord = await splicedActs(reader, { from, to, tray, place }, said);
    if (onRecord) {
      if (tray !== undefined && place !== undefined && onRecord.acts.length > 0) {
        const beyond = beyondCapacity(await trayNamed(reader, tray, "tray"), [place]);
        if (beyond) cells.doubt(beyond);
      }
      return onRecord;
    }
    const input = {
      ...{ from, to, ...(tray === undefined ? { at } : { tray }), first_place: place },
      ...said,
    };
    return {
      words: say`Splice ${from} to ${to} in ${tray ?? cells.text("tray") ?? at ?? "?"}`,
      acts: [{ name: "splice.range", input }],
    };
  },
};

/** What a row says of a joint beside what it joins; what it leaves empty is left as it is. */
function given(cells: RowCells): SaidOfJoint {
  return {
    ...{ loss_ab_db: cells.number("loss_ab_db"), loss_ba_db: cells.number("loss_ba_db") },
    loss_basis: cells.choice("loss_basis", KINDS.splice.fields.loss_basis.values),
    ...{ made_on: cells.day("made_on"), made_by: cells.text("made_by"), notes: cells.text("notes") },
  };
}
