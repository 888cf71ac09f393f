/** Classes of fibre: cores, modes, and which of several is the lowest. */
import { FIBRE_CLASSES } from "../model/lists.ts";

export type FibreClass = keyof typeof FIBRE_CLASSES;
export type Mode = "single_mode" | "multimode";
export type Core = "62_5" | "50" | "single_mode";

const CORES: Readonly<Record<FibreClass, Core>> = {
  om1: "62_5",
  om2: "50",
  om3: "50",
  om4: "50",
  om5: "50",
  os1: "single_mode",
  os1a: "single_mode",
  os2: "single_mode",
  g652d: "single_mode",
  g655: "single_mode",
  g657a1: "single_mode",
  g657a2: "single_mode",
  g657b3: "single_mode",
};

/** From the lowest up: where classes are mixed, the first of them says how far an application runs. */
const RANKS = Object.keys(CORES) as FibreClass[];

export const coreOf = (fibre: FibreClass): Core => CORES[fibre];
export const modeOf = (fibre: FibreClass): Mode => (CORES[fibre] === "single_mode" ? "single_mode" : "multimode");
export const classWords = (fibre: FibreClass): string => FIBRE_CLASSES[fibre];

/** The lowest of some classes; null for none. */
export const lowestOf = (classes: Iterable<FibreClass>): FibreClass | null => {
  const all = new Set(classes);
  return RANKS.find((one) => all.has(one)) ?? null;
};

/** A class and the next lower ones of the same core, from it down: a class without a row of its own uses the next. */
export const downFrom = (fibre: FibreClass): readonly FibreClass[] =>
  RANKS.slice(0, RANKS.indexOf(fibre) + 1)
    .filter((one) => CORES[one] === CORES[fibre])
    .reverse();

const WINDOWS = { multimode: 1300, single_mode: 1310 } as const;

/** The wavelength values are listed under: the window near 1300 nm has one name a mode. */
export const listedWavelength = (nm: number, mode: Mode): number => (nm === 1300 || nm === 1310 ? WINDOWS[mode] : nm);
