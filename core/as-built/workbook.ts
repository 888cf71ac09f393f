/** A workbook (ECMA-376, the form of .xlsx and .xlsm) as tables of text, one a worksheet that isn't hidden. */
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";
import { archiveParts, unpackPart } from "./archive.ts";
import { decoded, encodingOf } from "./decode.ts";
import type { SheetTable } from "./table.ts";
import { formatsOf } from "./workbook/formats.ts";
import { type Book, worksheet } from "./workbook/worksheet.ts";
import { attribute, tags, unescaped } from "./workbook/xml.ts";

export const isZip = (bytes: Uint8Array): boolean =>
  bytes[0] === 0x50 && bytes[1] === 0x4b && (bytes[2] === 0x03 || bytes[2] === 0x05);

/** Unpacked, all parts that are read together; a packed file may claim a thousand times its size. */
const MOST_UNPACKED = 256 * 1024 * 1024;

const READ = /^xl\/(workbook\.xml|sharedStrings\.xml|styles\.xml|_rels\/workbook\.xml\.rels|worksheets\/[^/]+\.xml)$/i;

export function workbookTables(name: string, bytes: Uint8Array): SheetTable[] {
  const { parts, macros } = unpacked(name, bytes);
  const main = parts.get("xl/workbook.xml");
  if (main === undefined)
    refuse("file", say`${name} is an archive, not a workbook.`, [
      { file: name, reason: say`holds no worksheets; unpack it, or save the sheet as .xlsx or CSV` },
    ]);
  const { sheets, from1904 } = sheetsOf(main as string);
  const targets = targetsOf(parts.get("xl/_rels/workbook.xml.rels") ?? "");
  const styles = parts.get("xl/styles.xml");
  const book: Book = {
    strings: stringsOf(parts.get("xl/sharedStrings.xml") ?? ""),
    formats: styles === undefined ? [] : formatsOf(styles),
    from1904,
  };
  const tables = sheets.flatMap(({ title, relation, hidden }) => {
    const xml = parts.get(targets.get(relation) ?? "");
    if (xml === undefined || hidden) return [];
    const table = worksheet(title, xml, book);
    return [
      macros ? { ...table, notices: [...table.notices, say`The workbook holds macros; they are not run.`] } : table,
    ];
  });
  if (tables.length === 0)
    refuse("file", say`${name} has no worksheet to be read.`, [
      { file: name, reason: say`holds only hidden sheets or charts` },
    ]);
  return tables;
}

function unpacked(name: string, bytes: Uint8Array): { parts: Map<string, string>; macros: boolean } {
  const damaged = (record?: string): never =>
    refuse("file", say`${name} is damaged.`, [
      { file: name, ...(record === undefined ? {} : { record }), reason: say`can't be unpacked; save it again` },
    ]);
  const all = archiveParts(bytes) ?? damaged();
  const wanted = all.filter((part) => READ.test(part.name));
  const total = wanted.reduce((sum, part) => sum + part.unpacked, 0);
  if (total > MOST_UNPACKED)
    refuse("file", say`${name} is too big unpacked.`, [
      { file: name, reason: say`unpacks to ${Math.ceil(total / 1_000_000)} million bytes; at most 268 are read` },
    ]);
  const parts = new Map<string, string>();
  for (const part of wanted) {
    if (part.encrypted)
      refuse("file", say`${name} is locked by a password.`, [
        { file: name, record: part.name, reason: say`is encrypted; save it without a password` },
      ]);
    const xml = unpackPart(bytes, part) ?? damaged(part.name);
    parts.set(part.name, whole(name, part.name, decoded(xml, encodingOf(xml))));
  }
  return { parts, macros: all.some((part) => /vbaProject\.bin$/i.test(part.name)) };
}

/**
 * A part that ends with the end of what it begins with. An archive may claim less than it holds; what is beyond the claim
 * isn't unpacked, and rows that are cut off must not pass for the whole sheet.
 */
function whole(name: string, path: string, xml: string): string {
  const [, root] = /<([\w.:-]+)[\s/>]/.exec(xml.slice(0, 4096).replace(/^\s*<\?[^>]*>/, "")) ?? [];
  const end = xml.slice(-400).trimEnd();
  if (root === undefined || end.endsWith(`</${root}>`) || end.endsWith("/>")) return xml;
  return refuse("file", say`${name} is damaged.`, [
    { file: name, record: path, reason: say`is cut off: the archive claims less than it holds; save it again` },
  ]);
}

function sheetsOf(xml: string) {
  const sheets: { title: string; relation: string; hidden: boolean }[] = [];
  let from1904 = false;
  for (const { name, opens, attributes } of tags("workbook.xml", xml)) {
    if (!opens) continue;
    if (name === "workbookPr") from1904 = /^(1|true)$/.test(attribute(attributes, "date1904") ?? "");
    if (name === "sheet")
      sheets.push({
        title: attribute(attributes, "name") ?? "",
        relation: attribute(attributes, "id") ?? "",
        hidden: (attribute(attributes, "state") ?? "visible") !== "visible",
      });
  }
  return { sheets, from1904 };
}

function targetsOf(xml: string): Map<string, string> {
  const targets = new Map<string, string>();
  for (const { name, opens, attributes } of tags("workbook.xml.rels", xml)) {
    if (name !== "Relationship" || !opens) continue;
    const target = attribute(attributes, "Target") ?? "";
    targets.set(attribute(attributes, "Id") ?? "", target.startsWith("/") ? target.slice(1) : `xl/${target}`);
  }
  return targets;
}

/** Texts that cells refer to by number; of text with its pronunciation only the text. */
function stringsOf(xml: string): string[] {
  const strings: string[] = [];
  let text = "";
  let phonetic = false;
  for (const { name, opens, closes, before } of tags("sharedStrings.xml", xml)) {
    if (name === "si" && opens) text = "";
    else if (name === "rPh") phonetic = opens && !closes;
    else if (name === "t" && !opens && !phonetic) text += unescaped(before);
    if (name === "si" && closes) strings.push(text);
  }
  return strings;
}
