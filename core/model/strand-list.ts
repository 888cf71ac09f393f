/**
 * Strands and ports as crews list them: `25-36,40`, `GR`, `GR/BL-BR`, `or bl`, `GR/R3/BL`, `GR 1-12`, `25#2`. Pure
 * grammar; which strand a colour means depends on the cable and is found out in `core/store/strands.ts`.
 */

import { say } from "../words/say.ts";
import { Fault, quoted } from "./clean-text.ts";

export type StrandPick =
  /** Numbers over the whole sheath; `section` where one section of each is meant. */
  | {
      readonly kind: "numbers";
      readonly text: string;
      readonly from: number;
      readonly to: number;
      readonly section: number | null;
    }
  /** Units and strands by colour, number or print, from the outside in; each reading is one way to divide the text. */
  | {
      readonly kind: "levels";
      readonly text: string;
      readonly readings: readonly (readonly string[])[];
      readonly section: number | null;
    };

/** No sheath holds more. */
const MOST = 100_000;

/** Dashes of every make, dots and "to" between two numbers or colours. */
const RANGE_SIGN = /\s*(?:[-‐‑‒–—]|\.\.|…|\bto\b)\s*/i;
const NUMBERS = new RegExp(`^(\\d{1,9})(?:${RANGE_SIGN.source}(\\d{1,9}))?$`, "i");

/** Divides a range at its sign, or null where there is none. */
export function splitRange(text: string): readonly [string, string] | null {
  const match = RANGE_SIGN.exec(text);
  if (!match || match.index === 0) return null;
  const last = text.slice(match.index + match[0].length);
  return last === "" ? null : [text.slice(0, match.index), last];
}

export const splitList = (text: string): string[] =>
  text
    .split(/[,;]/)
    .map((item) => item.trim())
    .filter((item) => item !== "");

function parseItem(item: string): StrandPick | Fault {
  const hash = /^(.*?)\s*#\s*(\d{1,5})$/.exec(item);
  const text = hash?.[1] ?? item;
  const section = hash ? Number(hash[2]) : null;
  if (section === 0) return new Fault(say`${quoted(item)} names section 0; sections count from 1`);
  const numbers = NUMBERS.exec(text);
  if (numbers) {
    const from = Number(numbers[1]);
    const to = numbers[2] === undefined ? from : Number(numbers[2]);
    if (from === 0 || to === 0) return new Fault(say`${quoted(item)} names strand 0; strands count from 1`);
    if (to < from) return new Fault(say`${quoted(item)} runs backwards; write ${to}-${from}`);
    if (to > MOST) return new Fault(say`${quoted(item)} goes beyond ${MOST}, the greatest strand number`);
    return { kind: "numbers", text: item, from, to, section };
  }
  const tight = text.replace(/\s*([/-])\s*/g, "$1");
  const levels = tight.includes("/") ? tight.split("/") : tight.split(" ");
  if (levels.some((level) => level === "")) return new Fault(say`${quoted(item)} has nothing between two /`);
  const readings = levels.length > 1 && !tight.includes("/") ? [levels, [text]] : [levels];
  return { kind: "levels", text: item, readings, section };
}

/** The picks of a list in the order written, or why it can't be read. */
export function parseStrandList(text: string): StrandPick[] | Fault {
  const items = splitList(text);
  if (items.length === 0) return new Fault(say`names no strand`);
  const picks: StrandPick[] = [];
  for (const item of items) {
    const pick = parseItem(item);
    if (pick instanceof Fault) return pick;
    picks.push(pick);
  }
  return picks;
}
