/**
 * Addresses as text: `LIB/101/A:07#2`, `F-012:25#2`, `F-012@3`. Pure grammar; what an address names is found out in
 * `core/store/addresses.ts`.
 *
 * A name inside an address is a record's tag or number. `/` goes down one level, `:` comes before a port or strand, `#`
 * before a position, section or other numbered part, `@` before a stop. Where a tag itself holds such a sign it is
 * written as `%2F`, `%3A`, `%23`, `%40`, and the per cent sign as `%25`. After a `:` only `#` and `%` have a meaning, so
 * that a device's port reads `LIB/101/SW-2:1/0/24`.
 */

import { say } from "../words/say.ts";
import { Fault, quoted } from "./clean-text.ts";
import type { Addressing } from "./kind.ts";

export type Separator = Addressing["separator"];

export interface Segment {
  /** What stands before the name; empty for the first. */
  readonly separator: Separator;
  /** The name as stored, without escapes. */
  readonly name: string;
}

/** No address that people write is longer: four tags of the greatest length and their signs. */
export const ADDRESS_MAX = 400;

const escaped = (sign: string): string => `%${sign.charCodeAt(0).toString(16).toUpperCase()}`;

/** A name as it stands in an address after the given separator. */
export const escapeName = (name: string, separator: Separator): string =>
  separator === ":" ? name.replace(/[%#]/g, escaped) : name.replace(/[%/:#@]/g, escaped);

/** The inverse of `escapeName`, after any separator. */
export const unescapeName = (name: string): string =>
  name.replace(/%(25|2f|3a|23|40)/gi, (_, code: string) => String.fromCharCode(Number.parseInt(code, 16)));

/** An address from its parent's address, a separator and its own name; without a parent the name stands alone. */
export const joinAddress = (parent: string | null, separator: Separator, name: string | number): string =>
  parent === null
    ? escapeName(String(name), "")
    : `${parent}${separator}${typeof name === "number" ? name : escapeName(name, separator)}`;

/** An address from its segments; the inverse of `parseAddress`. */
export const formatAddress = (segments: readonly Segment[]): string =>
  segments.map(({ separator, name }) => separator + escapeName(name, separator)).join("");

/** What somebody typed, as it is read: one line, normal form, single spaces. */
export const tidy = (text: string): string => text.normalize("NFC").replace(/\s+/g, " ").trim();

const nameIn = (piece: string): string => unescapeName(piece.trim()).normalize("NFC");

/** The names of an address, or why it can't be one. */
export function parseAddress(text: string): Segment[] | Fault {
  // Normal form comes after the escapes: a mark that combines must not combine with one of their letters.
  const whole = text.replace(/\s+/g, " ").trim();
  if (whole === "") return new Fault(say`is empty`);
  if (whole.length > ADDRESS_MAX) return new Fault(say`is longer than ${ADDRESS_MAX} characters`);
  const colon = whole.indexOf(":");
  const head = colon < 0 ? whole : whole.slice(0, colon);
  const segments: Segment[] = [];
  let separator: Separator = "";
  for (const piece of head.split(/([/#@])/)) {
    if (piece === "/" || piece === "#" || piece === "@") separator = piece;
    else segments.push({ separator, name: nameIn(piece) });
  }
  if (colon >= 0) {
    const [port = "", ...rest] = whole.slice(colon + 1).split("#");
    segments.push({ separator: ":", name: nameIn(port) });
    if (rest.length > 0) segments.push({ separator: "#", name: nameIn(rest.join("#")) });
  }
  const blank = segments.findIndex(({ name }) => name === "");
  if (blank < 0) return segments;
  const sign = segments[blank]?.separator || segments[blank + 1]?.separator || "";
  return new Fault(blank === 0 ? say`has no name before ${quoted(sign)}` : say`has no name after ${quoted(sign)}`);
}
