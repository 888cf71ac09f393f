/** Joints of single-mode glass whose mode fields differ, and what an instrument that reads backscatter makes of them. */

/**
 * Loss of a joint in decibels, from both mode field radii or both diameters, in one unit; the same both ways.
 * Formula as restated in a technician's course: -20 log10(2 w1 w2 / (w1² + w2²)).
 */
export const modeFieldLoss = (first: number, second: number): number =>
  -20 * Math.log10((2 * first * second) / (first ** 2 + second ** 2));

/** What light loses at a joint, from readings both ways: their signed mean. A gain one way is a step of backscatter. */
export const twoWayMean = (there_db: number, back_db: number): number => (there_db + back_db) / 2;

/** The false step one way, as one over the mode field squared catches backscatter: it changes its sign the other way. */
export const falseStep = (from_um: number, to_um: number): number => 10 * Math.log10(from_um / to_um);
