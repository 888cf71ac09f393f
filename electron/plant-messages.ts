/**
 * What the main process and the plant's process say to each other. Replies travel as JSON text: main hands them on without
 * taking them apart, and an answer is the same here as through the loopback host.
 */
import { z } from "zod";
import { type WireCall, type WirePaper, type WireStop, wireEvent } from "../core/operations/wire.ts";
import type { Failure } from "../core/result.ts";

/** `ticket` tells which answer belongs to which request; main counts it. */
export type ToPlant =
  | { readonly type: "call"; readonly ticket: number; readonly call: WireCall }
  | { readonly type: "paper"; readonly ticket: number; readonly paper: WirePaper }
  | { readonly type: "stop"; readonly ticket: number; readonly stop: WireStop }
  | { readonly type: "close" };

const problem = z.object({
  row: z.number().optional(),
  file: z.string().optional(),
  record: z.string().optional(),
  field: z.string().optional(),
  reason: z.string(),
});

/** A PDF, or why there is none. */
const printed = z.discriminatedUnion("ok", [
  z.object({
    ok: z.literal(true),
    value: z.object({
      name: z.string(),
      bytes: z.custom<Uint8Array>((bytes) => bytes instanceof Uint8Array),
      pages: z.number(),
      missing: z.array(z.string()).readonly(),
    }),
  }),
  z.object({ ok: z.literal(false), error: z.custom<Failure>((error) => typeof error === "object" && error !== null) }),
]);
export type PlantPrinted = z.output<typeof printed>;

export const fromPlant = z.discriminatedUnion("type", [
  z.object({ type: z.literal("opened") }),
  z.object({ type: z.literal("not_opened"), message: z.string(), problems: z.array(problem) }),
  z.object({ type: z.literal("reply"), ticket: z.number(), text: z.string() }),
  z.object({ type: z.literal("printed"), ticket: z.number(), printed }),
  z.object({ type: z.literal("event"), event: wireEvent }),
  z.object({ type: z.literal("closed") }),
]);
export type FromPlant = z.input<typeof fromPlant>;
