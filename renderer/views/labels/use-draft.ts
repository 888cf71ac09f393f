/** A wording that is being tried, by what is labelled: it waits as other forms do, until it is kept or dropped. */
import { z } from "zod";
import { LABEL_CLASS_NAMES } from "../../../core/model/label-blanks.ts";
import { say } from "../../../core/words/say.ts";
import { useKeptForm } from "../../forms/kept-form.ts";
import { type WrittenOn, writtenOn } from "../../forms/written-on.tsx";
import { addressOf } from "../../frame/router.ts";
import type { Draft } from "./asked.ts";

const shape = z
  .object({
    draft: z.object({
      place: z.enum(LABEL_CLASS_NAMES),
      text: z.string(),
      code: z.enum(["qr", "data_matrix", "none"]),
    }),
    on: writtenOn,
  })
  .nullable();
type Tried = z.output<typeof shape>;

export function useDraft({ of, at }: Readonly<Record<string, string>>): {
  readonly draft: Draft | null;
  /** The template that stood there when the first letter was typed; null where the plant had none of its own. */
  readonly on: WrittenOn;
  /** @param on the template as it stands there now */
  readonly setDraft: (draft: Draft | null, on: WrittenOn) => void;
} {
  const kept = useKeptForm<Tried>(addressOf("labels", { of, at }), say`What is written on labels`, null, shape);
  return {
    draft: kept.value?.draft ?? null,
    on: kept.value?.on ?? null,
    setDraft: (draft, on) => kept.type((before) => draft && { draft, on: before ? before.on : on }),
  };
}
