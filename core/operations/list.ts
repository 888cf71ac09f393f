/** Every operation, once. Transports, client, help and tests derive from this list. */
import type { z } from "zod";
import type { LongOperation, ReadOperation, WriteOperation, Written } from "./define.ts";
import type { AnyOperation } from "./dispatch.ts";

export const OPERATIONS = [] as const satisfies readonly AnyOperation[];

type Listed = (typeof OPERATIONS)[number];
export type OperationName = Listed["name"];
type Named<N extends OperationName> = Extract<Listed, { readonly name: N }>;
export type InputOf<N extends OperationName> = z.input<Named<N>["input"]>;
export type AnswerOf<N extends OperationName> =
  Named<N> extends WriteOperation<string, z.ZodType, infer O>
    ? Written<O>
    : Named<N> extends ReadOperation<string, z.ZodType, infer O>
      ? O
      : Named<N> extends LongOperation<string, z.ZodType, infer O>
        ? O
        : never;
