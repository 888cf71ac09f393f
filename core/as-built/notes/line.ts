/**
 * The lines crews write, by their form alone: `F-012 IN 1234 OUT 1267 MH-7`, `25-36 → H-3 1-12 T2`, `GR 1-12 express`,
 * `37-48 dead`, `GR & BR swapped at C-7`. What the names in them mean is found out on the record.
 */
import { say } from "../../words/say.ts";

export type Note =
  /** What the lines below are about: a cable, a place, or both. */
  | { readonly kind: "here"; readonly names: readonly string[] }
  | {
      readonly kind: "marks";
      readonly names: readonly string[];
      readonly given: Readonly<Partial<Record<Mark, string>>>;
    }
  | { readonly kind: "join"; readonly from: string; readonly to: string; readonly tray: string | null }
  | { readonly kind: "express"; readonly strands: string }
  | {
      readonly kind: "state";
      readonly strands: string;
      readonly condition: Condition;
      readonly word: string;
      readonly why: string | null;
    }
  | { readonly kind: "swap"; readonly one: string; readonly other: string; readonly at: string | null }
  | { readonly kind: "unsure"; readonly why: string };

export type Mark = "mark_in" | "mark_out" | "mark_open_from" | "mark_open_to" | "slack_m";
/** Null where the word says nothing of the glass itself. */
export type Condition = "good" | "degraded" | "broken" | null;

const WORDS: Readonly<Record<string, Condition>> = {
  ...{ dead: "broken", broken: "broken", bad: "degraded", "high loss": "degraded" },
  ...{ good: "good", ok: "good", tested: "good", dark: null, spare: null, free: null },
};

const NUMBER = "\\d[\\d.,]*(?:\\s*(?:m|ft|')(?![\\w-]))?";
const MARKS = new RegExp(
  `\\b(in|out|coil|slack)\\b\\s*[:=]?\\s*(${NUMBER})|\\b(open)\\b\\s*[:=]?\\s*(${NUMBER})\\s*(?:-|–|to)\\s*(${NUMBER})`,
  "gi",
);
const ARROW = /\s*(?:→|⇒|->|=>|>>)\s*|\s+(?:spliced to|landed on|lands on)\s+/i;
const TRAY = /[\s,]+(?:tray\s*)?((?:[^\s/]+\/)*T-?\d+[a-z]?)$/i;
const SWAPPED =
  /^(.+?)\s*(?:&|\+|↔|<->|\band\b)\s*(.+?)\s+(?:are |were |is )?(?:swapped|exchanged)(?:\s+(?:at|in|@)\s*(.+?))?$/i;
const SWAPPED_WITH = /^(.+?)\s+(?:are |were |is )?(?:swapped|exchanged)\s+with\s+(.+?)(?:\s+(?:at|in|@)\s*(.+?))?$/i;
const STATE = new RegExp(
  `^(.+?)\\s*(?:\\bis\\b|\\bare\\b|[:=])?\\s+(${Object.keys(WORDS).join("|")})(?:\\s*[,:(–-]\\s*(.+?)\\)?)?$`,
  "i",
);
const EXPRESS = /^(.+?)\s+(?:express|uncut|(?:run|runs|go|goes|pass|passes)\s+through)$/i;
const AT = /^(.*?)\s*(?:\bat\b|\bin\b|@)\s+(.+?)$/i;

/** A line without its bullet and its full stop; empty where nothing stands. */
export const tidyLine = (text: string): string =>
  text
    .normalize("NFC")
    .replace(/\s+/g, " ")
    .replace(/^\s*[-•*·]\s+/, "")
    .replace(/[\s.;]+$/, "")
    .trim();

export function readNote(text: string): Note {
  const swapped = SWAPPED_WITH.exec(text) ?? SWAPPED.exec(text);
  if (swapped) return { kind: "swap", one: swapped[1] ?? "", other: swapped[2] ?? "", at: swapped[3] ?? null };
  const sides = text.split(ARROW);
  if (sides.length === 2 && sides[0] && sides[1]) {
    const tray = TRAY.exec(sides[1]);
    const to = tray ? sides[1].slice(0, tray.index).trim() : sides[1];
    return { kind: "join", from: sides[0], to, tray: tray?.[1] ?? null };
  }
  if (sides.length > 2) return { kind: "unsure", why: say`has more than one arrow` };
  const marks = marksOf(text);
  if (marks) return marks;
  const express = EXPRESS.exec(text);
  if (express) return { kind: "express", strands: express[1] ?? "" };
  const state = STATE.exec(text);
  if (state) {
    const word = (state[2] ?? "").toLowerCase();
    return { kind: "state", strands: state[1] ?? "", condition: WORDS[word] ?? null, word, why: state[3] ?? null };
  }
  const head = text.replace(/:$/, "");
  const at = AT.exec(head);
  if (at) return { kind: "here", names: [at[1], at[2]].filter((name): name is string => Boolean(name)) };
  if (text.endsWith(":") || !head.includes(" ")) return { kind: "here", names: [head] };
  return { kind: "unsure", why: noForm(text) };
}

/** Forms by a word that stands in them, the nearest first. */
const FORMS: readonly (readonly [RegExp, string])[] = [
  [/swap|exchang/i, "GR & BR swapped at MH-7"],
  [/splic|land|→|->/i, "25-36 → H-3 1-12 T2"],
  [/express|uncut|through/i, "GR 1-12 express"],
  [/\b(coil|slack|mark|open)\b/i, "F-012 IN 1234 OUT 1267 COIL 12 m MH-7"],
  [new RegExp(`\\b(${Object.keys(WORDS).join("|")})\\b`, "i"), "37-48 dead"],
];

/** That a line has no form that is known, with the form that comes nearest. */
export function noForm(text: string): string {
  const near = FORMS.find(([word]) => word.test(text))?.[1];
  return near === undefined
    ? say`is written in no form that is known`
    : say`is written in no form that is known; the nearest is “${near}”`;
}

/** Strands are told by a number or by short codes of colours; a word is none. */
const STRANDS = /\d|^[a-z]{2}(?:[\s,/&+–-]+[a-z]{2})*$/i;

/** Whether a part of a line can mean strands at all, by its form alone. */
export const canBeStrands = (text: string): boolean => STRANDS.test(text.trim());

const FIELDS: Readonly<Record<string, Mark>> = { in: "mark_in", out: "mark_out", coil: "slack_m", slack: "slack_m" };

function marksOf(text: string): Note | null {
  const given: Partial<Record<Mark, string>> = {};
  const rest = text.replace(MARKS, (_, word, value, open, from, to) => {
    if (open) {
      given.mark_open_from = from;
      given.mark_open_to = to;
    } else given[FIELDS[String(word).toLowerCase()] as Mark] = value;
    return " ";
  });
  if (Object.keys(given).length === 0) return null;
  const names = rest
    .split(/[\s,;:@]+|\bat\b/i)
    .map((name) => name.trim())
    .filter((name) => name !== "");
  return names.length > 2
    ? { kind: "unsure", why: say`names more than a cable and a place` }
    : { kind: "marks", names, given };
}
