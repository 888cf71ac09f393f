/**
 * `npm run messages`: writes the catalogue of everything the program says, `core/words/messages.json`, from the source as a parser
 * sees it: each message by its pattern, with the files it stands in and, where the source has one, a name for each hole.
 */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { parseSync } from "vite";
import { countedPattern, holesOf, patternOf, pluralPattern } from "../core/words/pattern.ts";
import { type Catalogue, formsOf } from "../core/words/translation.ts";

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
export const CATALOGUE_FILE = join(ROOT, "core", "words", "messages.json");
const SPOKEN = ["core", "host", "electron", "renderer"];
/** Tags whose templates are messages. */
const TAGS = ["say", "sayWith"];

interface Node {
  readonly type: string;
  readonly [key: string]: unknown;
}

/** A message as it stands in one place. */
export interface Found {
  readonly key: string;
  readonly holes: readonly string[];
}

/** Every message of one file's text, in the order in which they stand. */
export function messagesIn(path: string, text: string): Found[] {
  const { program, errors } = parseSync(path, text);
  if (errors.length > 0) throw new Error(`${path}: ${errors[0]?.message}`);
  const found: Found[] = [];
  visit(program as unknown as Node, (node) => {
    if (node.type === "TaggedTemplateExpression" && TAGS.includes(nameOf(node.tag))) {
      const { quasis, expressions } = node.quasi as { quasis: Node[]; expressions: Node[] };
      const words = quasis.map(({ value }) => (value as { cooked: string }).cooked);
      if (words.some((piece) => /\{\d{1,2}\}/.test(piece))) {
        throw new Error(
          `${path}: a message has a number in braces among its words, which no translator can tell from a hole`,
        );
      }
      const key = patternOf(words);
      if (formsOf(key))
        throw new Error(`${path}: a message holds " | ", which parts the forms of one for one and for many`);
      found.push({ key, holes: expressions.map(nameOf) });
    }
    if (node.type === "CallExpression" && nameOf(node.callee) === "plural") {
      const [, one, many, ...holes] = node.arguments as Node[];
      const [[first = ""], [second = ""]] = [literalsOf(one), literalsOf(many)];
      const told = [...new Set([...holesOf(first), ...holesOf(second)])]
        .filter((hole) => hole > 0)
        .sort((a, b) => a - b);
      if (first === "" || second === "" || told.some((hole, at) => hole !== at + 1) || told.length !== holes.length) {
        throw new Error(`${path}: both forms of a sentence are written out, with a hole for each of what follows them`);
      }
      found.push({ key: pluralPattern(first, second), holes: ["number", ...holes.map(nameOf)] });
    }
    if (node.type === "CallExpression" && nameOf(node.callee) === "counted") {
      const [, one, many] = node.arguments as Node[];
      for (const first of literalsOf(one)) {
        for (const second of many ? literalsOf(many) : [`${first}s`]) {
          found.push({ key: countedPattern(first, second), holes: ["number"] });
        }
      }
    }
  });
  return found;
}

/** The catalogue of the source as it stands. */
export function readMessages(root = ROOT): Catalogue {
  const all = new Map<string, { readonly in: Set<string>; readonly holes: readonly string[] }>();
  for (const path of sourcesIn(root)) {
    for (const { key, holes } of messagesIn(path, readFileSync(join(root, path), "utf8"))) {
      const known = all.get(key);
      if (known) known.in.add(path);
      else all.set(key, { in: new Set([path]), holes });
    }
  }
  return Object.fromEntries(
    [...all]
      .sort(([a], [b]) => (a < b ? -1 : 1))
      .map(([key, { in: places, holes }]) => [
        key,
        { in: [...places], ...(holes.some((hole) => hole !== "") ? { holes } : {}) },
      ]),
  );
}

/** One message a line, so that a change of one shows as one. */
export const catalogueText = (catalogue: Catalogue): string =>
  `{\n${Object.entries(catalogue)
    .map(([key, entry]) => `${JSON.stringify(key)}: ${JSON.stringify(entry)}`)
    .join(",\n")}\n}\n`;

const sourcesIn = (root: string): string[] =>
  SPOKEN.flatMap((place) =>
    readdirSync(join(root, place), { withFileTypes: true, recursive: true })
      .filter((entry) => entry.isFile() && /\.tsx?$/.test(entry.name))
      .map((entry) => relative(root, join(entry.parentPath, entry.name)).split(sep).join("/")),
  ).sort();

function visit(node: Node, meet: (node: Node) => void): void {
  meet(node);
  for (const child of Object.values(node)) {
    for (const one of Array.isArray(child) ? child : [child]) {
      if (typeof one === "object" && one !== null && typeof one.type === "string") visit(one, meet);
    }
  }
}

/** What the source calls a value: `tag` for `tag` and for `cable.tag`; nothing for what is worked out in place. */
function nameOf(node: unknown): string {
  const { type, name, property, computed } = (node ?? {}) as Node;
  if (type === "Identifier") return String(name);
  return type === "MemberExpression" && !computed ? nameOf(property) : "";
}

/** The texts written out for an argument: one, or those of both branches. */
function literalsOf(node: Node | undefined): string[] {
  if (node?.type === "Literal" && typeof node.value === "string") return [node.value];
  if (node?.type === "ConditionalExpression") {
    return [...literalsOf(node.consequent as Node), ...literalsOf(node.alternate as Node)];
  }
  return [];
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const catalogue = readMessages();
  writeFileSync(CATALOGUE_FILE, catalogueText(catalogue));
  process.stdout.write(`${Object.keys(catalogue).length} messages in core/words/messages.json\n`);
}
