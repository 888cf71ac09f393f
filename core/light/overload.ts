/** Too much light: greatest launch less the least loss, held against what the receiver bears. */

import { say } from "../words/say.ts";
import type { Overload } from "./answer.ts";
import { spokenDecibel } from "./spoken.ts";
import { toDecibel } from "./terms.ts";

export interface Powers {
  readonly launch_min_dbm: number | null;
  readonly launch_max_dbm: number | null;
  readonly sensitivity_dbm: number | null;
  readonly overload_dbm: number | null;
}

export interface Channel {
  /** The least the channel can lose, and whether all of that was measured. */
  readonly least_db: number;
  readonly measured: boolean;
  /** The most it loses by what is known; null where not all is. */
  readonly most_db: number | null;
}

/**
 * An error when the loss was measured, a warning when it was worked out. The attenuator proposed is the smallest, in
 * steps, that spares the receiver; none is proposed where the least launch would then no longer reach it.
 */
export function overloadOf(powers: Powers, channel: Channel, step_db: number): Overload {
  const { launch_min_dbm, launch_max_dbm, sensitivity_dbm, overload_dbm } = powers;
  const none = { arrives_dbm: null, over_db: null, attenuator_db: null };
  if (launch_max_dbm === null || overload_dbm === null) {
    const missing = launch_max_dbm === null ? say`the greatest launch` : say`what the receiver bears`;
    return {
      severity: "cannot_tell",
      ...none,
      words: say`Whether it is too much light can't be told: ${missing} is not on record.`,
    };
  }
  const arrives_dbm = toDecibel(launch_max_dbm - channel.least_db);
  const over_db = toDecibel(arrives_dbm - overload_dbm);
  const arrives = spokenDecibel(arrives_dbm, overload_dbm);
  const least = say`least loss ${spokenDecibel(channel.least_db)} dB, ${channel.measured ? say`measured` : say`worked out`}`;
  if (over_db <= 0) {
    const words = say`Up to ${arrives} dBm arrives (${least}); the receiver bears ${overload_dbm} dBm.`;
    return { severity: "none", arrives_dbm, over_db, attenuator_db: null, words };
  }
  const step = step_db > 0 ? step_db : 1;
  const wanted = toDecibel(Math.ceil(toDecibel(over_db / step)) * step);
  const reaches =
    launch_min_dbm === null || sensitivity_dbm === null || channel.most_db === null
      ? null
      : launch_min_dbm - channel.most_db - wanted >= sensitivity_dbm;
  const cure =
    reaches === false
      ? say`No attenuator fits: with ${wanted} dB the least launch no longer reaches the receiver.`
      : reaches
        ? say`An attenuator of ${wanted} dB brings it down.`
        : say`An attenuator of ${wanted} dB brings it down; whether enough light is left can't be told.`;
  return {
    severity: channel.measured ? "error" : "warning",
    arrives_dbm,
    over_db,
    attenuator_db: reaches === false ? null : wanted,
    words: say`Too much light: up to ${arrives} dBm arrives (${least}), and the receiver bears ${overload_dbm} dBm. ${cure}`,
  };
}
