/** A wording that is being tried, by what is labelled: it waits as other forms do, until it is kept or dropped. */
import { z } from "zod";
import { LABEL_CLASS_NAMES } from "../../../core/model/label-blanks.ts";
import { say } from "../../../core/words/say.ts";
import { useKeptForm } from "../../forms/kept-form.ts";
import { addressOf } from "../../frame/router.ts";
import type { Draft } from "./asked.ts";

const shape: z.ZodType<Draft | null> = z
  .object({ place: z.enum(LABEL_CLASS_NAMES), text: z.string(), code: z.enum(["qr", "data_matrix", "none"]) })
  .nullable();

export function useDraft({ of, at }: Readonly<Record<string, string>>): {
  readonly draft: Draft | null;
  readonly setDraft: (draft: Draft | null) => void;
} {
  const kept = useKeptForm<Draft | null>(addressOf("labels", { of, at }), say`What is written on labels`, null, shape);
  return { draft: kept.value, setDraft: (draft) => kept.type(() => draft) };
}
