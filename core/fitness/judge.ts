/** Every rule of fitness over one cable. */

import type { Facts, FitCable } from "./facts.ts";
import { buffers, coils, depth, type Terminations, warranty } from "./held.ts";
import { indoors } from "./indoors.ts";
import type { Judgement } from "./judgement.ts";
import type { Limits } from "./limits.ts";
import { metal } from "./metal.ts";
import { tensions } from "./pull.ts";
import { weather } from "./weather.ts";

/** All that is judged of one cable by itself; its pipes are judged with what else lies in them (`pipes.ts`). */
export function judge(
  facts: Facts,
  cable: FitCable,
  limits: Limits,
  { terminations, today }: { readonly terminations: readonly Terminations[]; readonly today: string },
): Judgement[] {
  return [
    ...metal(facts, cable),
    ...weather(facts, cable),
    ...indoors(facts, cable, limits),
    ...buffers(cable, terminations),
    ...coils(facts, cable, limits),
    ...tensions(facts, cable, limits),
    ...depth(facts, cable, limits),
    ...warranty(cable, today),
  ];
}
