/**
 * Tags of an XML part in order, as workbooks hold them (ECMA-376: UTF-8 or UTF-16, no document type). It is no general
 * reader: what declares entities is refused instead of expanded.
 */
import { refuse } from "../../result.ts";
import { say } from "../../words/say.ts";

export interface Tag {
  /** Without its prefix. */
  readonly name: string;
  readonly opens: boolean;
  /** It ends as it opens: `<c r="A1"/>`. */
  readonly closes: boolean;
  readonly attributes: string;
  /** Text between the tag before and this one. */
  readonly before: string;
}

const TAG = /<(\/?)(?:[\w.-]+:)?([\w.-]+)((?:"[^"]*"|'[^']*'|[^>"'])*?)(\/?)>/g;

export function* tags(part: string, xml: string): Generator<Tag> {
  if (/<!(DOCTYPE|ENTITY)/i.test(xml.slice(0, 4096)))
    refuse("file", say`${part} declares entities, which no workbook does.`, [
      { file: part, reason: say`declares a document type` },
    ]);
  let from = 0;
  TAG.lastIndex = 0;
  const scan = new RegExp(TAG);
  for (let match = scan.exec(xml); match; match = scan.exec(xml)) {
    const [whole, slash, name, attributes, end] = match;
    yield {
      name: name ?? "",
      opens: slash === "",
      closes: slash === "/" || end === "/",
      attributes: attributes ?? "",
      before: xml.slice(from, match.index),
    };
    from = match.index + whole.length;
  }
}

/** By the attribute's name: a worksheet asks for the same few of each of its cells. */
const ATTRIBUTES = new Map<string, RegExp>();

export function attribute(attributes: string, name: string): string | null {
  if (attributes === "") return null;
  let pattern = ATTRIBUTES.get(name);
  if (pattern === undefined) {
    pattern = new RegExp(`(?:^|\\s)(?:[\\w.-]+:)?${name}\\s*=\\s*(?:"([^"]*)"|'([^']*)')`);
    ATTRIBUTES.set(name, pattern);
  }
  const match = pattern.exec(attributes);
  return match ? unescaped(match[1] ?? match[2] ?? "") : null;
}

const NAMED: Readonly<Record<string, string>> = { lt: "<", gt: ">", amp: "&", quot: '"', apos: "'" };

/** Character references, and `_x000D_` as workbooks write what XML can't hold (ECMA-376 part 1, 22.9.2.19). */
export const unescaped = (text: string): string =>
  text.includes("&") || text.includes("_x")
    ? text
        .replace(/&(?:#(\d+)|#x([\da-f]+)|(\w+));/gi, (whole, decimal, hex, name) => {
          const code = decimal ? Number(decimal) : hex ? Number.parseInt(hex, 16) : null;
          if (code !== null) return code > 0 && code < 0x110000 ? String.fromCodePoint(code) : "\uFFFD";
          return NAMED[name as string] ?? whole;
        })
        .replace(/_x([\da-f]{4})_/gi, (_, hex) => String.fromCharCode(Number.parseInt(hex, 16)))
    : text;
