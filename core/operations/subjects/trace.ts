/** Where glass goes. */
import { z } from "zod";
import { TRACEABLE } from "../../trace/target.ts";
import { trace } from "../../trace/trace.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export const traceWalk = defineRead({
  name: "trace.walk",
  help: say`Follows one strand, port, circuit, cord or splice both ways, hop by hop, to where the glass or the record ends.`,
  input: z.strictObject({
    what: z
      .union([
        z.string().trim().min(1, say`is empty`).max(400, say`is longer than 400 characters`),
        z.strictObject({ kind: z.enum(TRACEABLE), id: z.int().min(1) }),
      ])
      .describe(say`An address, such as F-012:25, LIB/101/A:07 or K-118; or a record's kind and id.`),
  }),
  run: ({ reader, today }, { what }) => trace(reader, what, today),
});
