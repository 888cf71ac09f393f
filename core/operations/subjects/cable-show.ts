/** One cable with its course, its inside and what its strands are doing. */
import { z } from "zod";
import { cableSheet } from "../../trace/cable-sheet.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export const cableShow = defineRead({
  name: "cable.show",
  help: say`One cable: its stops with marks and coils, the legs between them, its tubes and strands and what each strand is doing.`,
  input: z.strictObject({
    cable: z
      .union([z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`), z.int().min(1)])
      .describe(say`The cable's tag, such as F-012, or its id.`),
  }),
  run: ({ reader, today }, { cable }) => cableSheet(reader, cable, today),
});
