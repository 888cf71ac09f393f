/** A sealed penetration through which cable is pulled: opened, sealed again by its listed system, and on record as that. */
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import { DAY, type PlannedStep } from "./step.ts";

export const openSeal = (seal: RecordRef, cable: string): PlannedStep => ({
  act: "record.edit",
  input: { kind: "firestop", id: seal.id, values: { opened_on: DAY } },
  words: say`Open seal ${seal.tag} for ${cable}, seal it again by its listed system when the cable has been pulled, and record it`,
  place: null,
});
