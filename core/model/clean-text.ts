/**
 * What text may be stored: normalised (NFC), trimmed, printable. Right-to-left and combining text is ordinary text; what
 * is refused is what can't be seen or what makes other text read in another order than it is stored.
 */
import { say } from "../words/say.ts";

/** Why a value can't be stored, as words that follow the field's label. */
export class Fault {
  readonly reason: string;
  constructor(reason: string) {
    this.reason = reason;
  }
}

/** Printable ASCII without blanks at its ends: nearly all text there is, and nothing to do for it. */
const PLAIN = /^[!-~](?:[ -~]*[!-~])?$/;
/** Control characters, bidirectional overrides and isolates, invisible and unassigned code points, lone surrogates. */
const REFUSED =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what it looks for
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u200b\u202a-\u202e\u2060\u2066-\u2069\ufeff\ufffd-\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/;

function nameOf(character: string): string {
  const code = character.charCodeAt(0);
  const number = `U+${code.toString(16).toUpperCase().padStart(4, "0")}`;
  if (code === 9) return say`a tab (${number})`;
  if (code < 32 || (code >= 127 && code < 160)) return say`a control character (${number})`;
  if ((code >= 0x202a && code <= 0x202e) || (code >= 0x2066 && code <= 0x2069))
    return say`a character that turns the reading direction (${number})`;
  if (code === 0xfffd) return say`the mark of a character that was lost in a wrong encoding (${number})`;
  if (code >= 0xd800 && code <= 0xdfff) return say`half a character (${number})`;
  return say`an invisible character (${number})`;
}

/** The text as it is stored; empty when nothing but blanks was given. */
export function cleanText(raw: string, lines = false): string | Fault {
  if (PLAIN.test(raw)) return raw;
  let text = raw.trim().normalize("NFC");
  if (/[\n\r\u2028\u2029]/.test(text)) {
    if (!lines) return new Fault(say`holds a line break: must be on one line`);
    text = text.replace(/\r\n?|[\u2028\u2029]/g, "\n");
  }
  const refused = REFUSED.exec(text);
  return refused ? new Fault(say`holds ${nameOf(refused[0])}: must be taken out`) : text;
}

/** Whether text has more than `max` characters; a character outside the basic plane counts once. */
export function longerThan(text: string, max: number): boolean {
  if (text.length <= max) return false;
  let count = 0;
  for (const _ of text) if (++count > max) return true;
  return false;
}

/** A value as it can be quoted in a sentence: short, on one line, nothing invisible. */
export function quoted(value: unknown): string {
  if (typeof value === "number" || typeof value === "boolean" || value === null) return String(value);
  const text = typeof value === "string" ? value : (JSON.stringify(value) ?? String(value));
  const short = text.length > 40 ? `${text.slice(0, 40)}…` : text;
  return `“${short.replace(/\p{C}/gu, "�")}”`;
}
