/** A piece of new cable into a new case, as it is planned for the sheath that it goes on for. */
import type { CasePiece } from "../repair/case-piece.ts";
import type { CaseArm } from "../repair/lost-case.ts";
import type { RecordRef } from "../trace/answer.ts";
import type { PlannedCase } from "./case.ts";
import type { GlassUnit } from "./glass-units.ts";
import type { PiecePlanned } from "./mend-piece.ts";

export interface CasePiecePlanned {
  readonly arm: CaseArm;
  readonly piece: CasePiece;
  readonly made: PiecePlanned;
  /** In which it is spliced to the cable it goes on for; null where it takes the place of that up to its end. */
  readonly case: PlannedCase | null;
  readonly place: RecordRef | null;
  readonly name: string;
  readonly units: readonly GlassUnit[];
  /** The order of that place along the cable as it is on record. */
  readonly ordinal: number;
  /** Every place at which the piece stops, in order along it. */
  readonly places: readonly (RecordRef | null)[];
  /** Why a leg has no room for it as things lie, in words. */
  readonly crowded: readonly string[];
  /** Places that it passes without a coil of its own, or what stays coiled there; null where it passes none. */
  readonly coiled: string | null;
}
