/** Losses of joints as they are on record: readings both ways, one way, a splicer's estimate, or nothing usable. */

import { shownDay } from "../model/wording.ts";
import { say } from "../words/say.ts";
import type { JoinLoss, LandingLoss, SpliceLoss } from "./facts.ts";
import { twoWayMean } from "./mode-field.ts";
import type { Basis } from "./terms.ts";

/** What a record says of a joint's loss; `note` says why a reading is not used as it stands. */
export interface OnRecord {
  readonly value: number | null;
  readonly basis: Basis;
  readonly source: string;
  readonly note: string | null;
}

/** Of a splice: whether it holds what light loses from one core into another, so that nothing is to be added for that. */
export interface SpliceOnRecord extends OnRecord {
  readonly holds_cores: boolean;
}

const NOTHING: OnRecord = { value: null, basis: "unknown", source: say`not on record`, note: null };

const words = (db: number): string => `${db} dB`;

/**
 * A splice's loss: the signed mean of both ways, or the one way that is known. Where cores differ a loss read the other
 * way says nothing of this one, and a splicer's estimate, made from how the ends lie, nothing of the cores.
 * @param way where cores differ and each way has a loss of its own, the way light goes; else null
 */
export function spliceLoss(splice: SpliceLoss, way: "ab" | "ba" | "unknown" | null): SpliceOnRecord {
  const { loss_basis } = splice;
  const [found, of_way] = lossAndWay(splice, way);
  const read = found.basis === "measured";
  if (way !== null && read && !of_way && loss_basis !== "both_ways") {
    const note = say`${found.value} dB was read the other way only, and cores differ: it says nothing of this way`;
    return { ...NOTHING, note, holds_cores: false };
  }
  return { ...found, holds_cores: read };
}

/** What is on record, and whether that is of the way light goes or of both. */
function lossAndWay(splice: SpliceLoss, way: "ab" | "ba" | "unknown" | null): [OnRecord, boolean] {
  const { loss_ab_db: ab, loss_ba_db: ba, loss_basis, made_on } = splice;
  const when = made_on === null ? "" : `, ${shownDay(made_on)}`;
  const basis: Basis = loss_basis === "estimate" ? "typical" : "measured";
  const known = loss_basis === "estimate" ? say`the splicer's estimate` : say`measured`;
  const own = way === "ab" ? ab : way === "ba" ? ba : null;
  if (own !== null && own >= 0) {
    return [
      { value: own, basis, source: say`on record for this way: ${words(own)}, ${known}${when}`, note: null },
      true,
    ];
  }
  if (ab !== null && ba !== null) {
    const mean = twoWayMean(ab, ba);
    const source = say`mean of both ways, ${ab} and ${ba} dB, ${known}${when}`;
    if (mean >= 0) return [{ value: mean, basis, source, note: null }, true];
    return [{ ...NOTHING, note: say`the mean of ${ab} and ${ba} dB is a gain, and no joint adds light` }, true];
  }
  const one = ab ?? ba;
  if (one === null) return [NOTHING, false];
  if (one < 0) {
    return [
      { ...NOTHING, note: say`${one} dB was read one way only: a gain is a step of backscatter, not a loss` },
      false,
    ];
  }
  const from = ab === null ? say`from B to A` : say`from A to B`;
  return [{ value: one, basis, source: say`one way, ${from}: ${words(one)}, ${known}${when}`, note: null }, false];
}

/** Loss recorded for a termination: of its splice where it has one, else of its pair. */
export function landingLoss({ loss_db, loss_basis, made_on }: LandingLoss): OnRecord {
  if (loss_db === null) return NOTHING;
  if (loss_db < 0) return { ...NOTHING, note: say`${loss_db} dB is a gain, and no joint adds light` };
  const estimate = loss_basis === "estimate";
  return {
    value: loss_db,
    basis: estimate ? "typical" : "measured",
    source: `${estimate ? say`on record for the termination, an estimate` : say`on record for the termination, measured`}${made_on ? `, ${shownDay(made_on)}` : ""}`,
    note: null,
  };
}

/** Loss recorded for a join of a module: a data sheet's figure unless it was measured. */
export const joinLoss = ({ loss_db, basis }: JoinLoss): OnRecord =>
  loss_db === null
    ? NOTHING
    : {
        value: loss_db,
        basis: basis === "measured" ? "measured" : "typical",
        source:
          basis === "measured"
            ? say`on record for the join, measured`
            : say`on record for the join, as stated for the module`,
        note: null,
      };
