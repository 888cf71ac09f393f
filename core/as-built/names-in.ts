/** What a cell names: one record, or the course of a cable, which names several. */
import type { Names } from "./shape.ts";

/** Between two entries of a course: a comma, a semicolon or an arrow. */
const BETWEEN = /[,;→]|-?>/;

export const namesIn = (text: string, names: Names): readonly string[] =>
  names === "course"
    ? text
        .split(BETWEEN)
        .map((one) => one.trim())
        .filter((one) => one !== "")
    : [text];
