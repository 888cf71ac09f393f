/** A label list: what is printed on which thing, or what somebody read on it. */
import { KINDS } from "../../model/dictionary.ts";
import { choiceWords } from "../../model/wording.ts";
import { resolve } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { RowCells } from "../row-cells.ts";
import type { Shape } from "../shape.ts";

export const labels: Shape = {
  name: "labels",
  title: say`label list`,
  help: say`A label a row: the thing, the place, the text printed; or what was seen of it.`,
  columns: [
    {
      ...{
        name: "subject",
        heading: "on",
        label: say`on`,
        help: say`The thing: a cable, panel, port, case.`,
        needed: true,
      },
      also: ["subject", "thing", "item", "object", "label on"],
    },
    {
      name: "space",
      heading: "at",
      label: say`at`,
      help: say`The place, for a thing that is at several.`,
      names: "space",
      also: ["place", "location", "space"],
    },
    {
      name: "text",
      heading: "text",
      label: say`text`,
      help: say`What is printed, or is to be; by the plant's pattern where empty.`,
      also: ["label", "label text", "printed text"],
    },
    {
      name: "printed_on",
      heading: "printed on",
      label: say`printed on`,
      help: say`The day; without it the text is still to be printed.`,
      also: ["printed", "print date"],
    },
    {
      name: "state",
      heading: "seen",
      label: say`seen`,
      help: say`Present, missing, illegible or wrong.`,
      also: ["state", "condition", "status"],
    },
    {
      name: "text_read",
      heading: "as read",
      label: say`as read`,
      help: say`What somebody read on it.`,
      also: ["read", "text read"],
    },
    {
      name: "seen_on",
      heading: "seen on",
      label: say`seen on`,
      help: say`The day somebody looked.`,
      also: ["date", "checked on"],
    },
    { name: "seen_by", heading: "seen by", label: say`seen by`, help: say`Who looked.`, also: ["by", "checked by"] },
  ],
  claims: (cells) => {
    const subject = cells.text("subject");
    return subject === undefined ? null : `${subject} ${cells.text("space") ?? ""} ${cells.text("text") ?? ""}`;
  },
  read: async (reader, cells) => {
    const subject = cells.needed("subject");
    const space = cells.text("space");
    const state = cells.choice("state", KINDS.label.fields.state.values);
    const text_read = cells.text("text_read");
    const at = space === undefined ? "" : say` at ${space}`;
    if (state !== undefined || text_read !== undefined) {
      const seen = {
        state: state ?? "present",
        text_read,
        seen_on: cells.day("seen_on"),
        seen_by: cells.text("seen_by"),
      };
      return {
        words: say`Note the label on ${subject}${at} as ${choiceWords("label", "state", seen.state)}`,
        acts: [{ name: "label.sight", input: { subject, space, ...seen } }],
      };
    }
    const text = cells.text("text");
    if (subject !== "" && text !== undefined && (await printed(reader, cells, subject, text)))
      return { words: say`The label on ${subject}${at} is on record`, acts: [] };
    return {
      words: say`Label ${subject}${at}`,
      acts: [{ name: "label.write", input: { subject, space, text, printed_on: cells.day("printed_on") } }],
    };
  },
};

async function printed(reader: Reader, cells: RowCells, subject: string, text: string): Promise<boolean> {
  const subjects = await resolve(reader, subject);
  const space = cells.text("space");
  const spaces = space === undefined ? [] : await resolve(reader, space, { kinds: ["space"] });
  const rows = await reader.rows<{ subject_kind: string; subject_id: number; space_id: number | null }>(
    "select subject_kind, subject_id, space_id from label where text = ?",
    [text],
  );
  return rows.some(
    (row) =>
      subjects.some(({ kind, id }) => kind === row.subject_kind && id === row.subject_id) &&
      (space === undefined || spaces.some(({ id }) => id === row.space_id)),
  );
}
