import type { KindName } from "../../model/dictionary.ts";
import { UNIQUE_KEY } from "../../store/relations.ts";

/** Whether people name records of a kind by a tag. */
export const isTagged = (kind: KindName): boolean => UNIQUE_KEY[kind]?.at(-1) === "tag";
