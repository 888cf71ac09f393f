/** How numbers are shown: which styles are days, which keep leading zeros. A serial number is no day by itself. */
import { attribute, tags } from "./xml.ts";

export type Shown =
  | { readonly as: "number" }
  | { readonly as: "day" }
  | { readonly as: "zeros"; readonly width: number };

const NUMBER: Shown = { as: "number" };

/** Formats that every workbook has and none writes down (ECMA-376 part 1, 18.8.30). */
const BUILT_IN_DAYS = new Set([14, 15, 16, 17, 22, 27, 30, 36, 50, 57]);

function shownBy(id: number, code: string | undefined): Shown {
  if (BUILT_IN_DAYS.has(id)) return { as: "day" };
  if (code === undefined) return NUMBER;
  const [first = ""] = code.replace(/\[[^\]]*\]/g, "").split(";");
  const bare = first.replace(/"[^"]*"|\\./g, "");
  if (/^0{2,}$/.test(bare)) return { as: "zeros", width: bare.length };
  return /[yd]/i.test(bare) ? { as: "day" } : NUMBER;
}

/** By the number of the style that a cell names. */
export function formatsOf(xml: string): Shown[] {
  const codes = new Map<number, string>();
  const styles: Shown[] = [];
  let inside = false;
  for (const { name, opens, closes, attributes } of tags("styles.xml", xml)) {
    if (name === "numFmt" && opens)
      codes.set(Number(attribute(attributes, "numFmtId")), attribute(attributes, "formatCode") ?? "");
    if (name === "cellXfs") inside = opens && !closes;
    if (name === "xf" && opens && inside) {
      const id = Number(attribute(attributes, "numFmtId") ?? 0);
      styles.push(shownBy(id, codes.get(id)));
    }
  }
  return styles;
}

/** The day of a serial number: counted from 1900 with the day that never was, 29 February 1900, or from 1904. */
export function dayOfSerial(serial: number, from1904: boolean): string | null {
  const days = Math.floor(serial) + (from1904 ? 1462 : 0);
  // Before March 1900 the count is off by the day that never was; no cable is as old.
  if (days < 61 || days > 2_958_465) return null;
  return new Date(Date.UTC(1899, 11, 30) + days * 86_400_000).toISOString().slice(0, 10);
}

/** A number as it is typed: 15 digits are kept, more are noise of the way it is stored. */
export const plainNumber = (value: number): string => String(Number(value.toPrecision(15)));

export function shownNumber(value: number, shown: Shown | undefined, from1904: boolean): string {
  if (shown?.as === "day") return dayOfSerial(value, from1904) ?? plainNumber(value);
  if (shown?.as === "zeros" && Number.isInteger(value) && value >= 0) return String(value).padStart(shown.width, "0");
  return plainNumber(value);
}
