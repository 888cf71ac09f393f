/** The desk: what was typed and is no record yet, kept in the plant file until it is entered or thrown away. */
import { z } from "zod";
import { refuse } from "../../result.ts";
import { type DeskItem, deskItem, onDesk, wholeOnDesk } from "../../store/desk.ts";
import { say } from "../../words/say.ts";
import { defineLong, defineRead } from "../define.ts";

const form = z
  .enum(["run", "run_files", "run_file", "sheet", "source", "typed"])
  .describe(
    say`What it belongs to: a new cable run, what is typed of its photos, one of them, how sheets of a source are read, a sheet that is being taken over, or cells of tables that aren't written.`,
  );
const id = z.int().min(1).describe(say`Which, by its number on the desk.`);

/**
 * Characters of what one of a form may hold. A run with every strand spliced by itself is a tenth of it; cells that were
 * pasted and refused have a reason each, and ten thousand of them are a block a clerk may well paste. A sheet being taken
 * over lies there as its bytes, twelve million of them: a bigger one is chosen again. A photo is as large as a file that is
 * kept with a record may be, four characters for three of its bytes.
 */
const MOST = {
  run: 1_000_000,
  run_files: 1_000_000,
  run_file: 28_500_000,
  sheet: 1_000_000,
  source: 16_000_000,
  typed: 16_000_000,
};

export const deskList = defineRead({
  name: "desk.list",
  help: say`What lies on the desk and is no record yet, the newest first.`,
  input: z.strictObject({ form, whole: z.boolean().optional().describe(say`With what they hold.`) }),
  run: async ({ reader }, asked): Promise<{ items: (DeskItem & { content?: unknown })[] }> => ({
    items: asked.whole ? await wholeOnDesk(reader, asked.form) : await onDesk(reader, asked.form),
  }),
});

export const deskOpen = defineRead({
  name: "desk.open",
  help: say`Takes one up again: what was typed, as it was typed.`,
  input: z.strictObject({ form, id }),
  run: ({ reader }, asked) => deskItem(reader, asked.form, asked.id),
});

export const deskKeep = defineLong({
  name: "desk.keep",
  help: say`Keeps what was typed in the plant file, beside the history: it changes nothing in the plant and there is nothing to undo.`,
  writes: true,
  input: z.strictObject({
    form,
    id: id.optional(),
    name: z.string().trim().max(200).default("").describe(say`What people know it by.`),
    content: z.record(z.string().max(100), z.unknown()).describe(say`What was typed.`),
    seen: z.int().min(0).optional().describe(say`How often it had been kept when it was last seen.`),
    one: z.boolean().optional().describe(say`There is one of this name: an older one is written over.`),
  }),
  run: async ({ gateway, occasion }, { content, ...item }) => {
    const text = JSON.stringify(content);
    const most = MOST[item.form];
    if (text.length > most)
      refuse("bad_input", say`That is too much to be kept on the desk.`, [
        { field: "content", reason: say`holds ${text.length} characters; at most ${most} are kept` },
      ]);
    return gateway.keep({ ...item, content: text }, occasion.author);
  },
});

export const deskThrowAway = defineLong({
  name: "desk.throw_away",
  help: say`Throws away what was typed and never entered. What was entered stays on record.`,
  writes: true,
  input: z.strictObject({ form, id }),
  run: async ({ gateway }, asked) => {
    await gateway.throwAway(asked.form, asked.id);
    return { thrown: asked.id };
  },
});
