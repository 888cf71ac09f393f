/** The project's source as a parser sees it. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join, posix, relative, sep } from "node:path";
import { parseSync } from "vite";

export interface Import {
  /** The path from the project's folder, or the package's or Node module's name as written. */
  readonly target: string;
  readonly local: boolean;
  readonly typeOnly: boolean;
  readonly names: readonly string[];
}

export interface Node {
  readonly type: string;
  readonly [key: string]: unknown;
}

export interface Source {
  readonly path: string;
  readonly lines: number;
  readonly program: Node;
  readonly imports: readonly Import[];
  lineOf(node: Node): number;
}

const READ = /\.(ts|tsx|mjs)$/;

export function readTree(root: string, places: readonly string[]): Source[] {
  return places
    .flatMap((place) => {
      const path = join(root, place);
      const found = statSync(path, { throwIfNoEntry: false });
      if (!found) return [];
      if (found.isFile()) return [path];
      return readdirSync(path, { withFileTypes: true, recursive: true })
        .filter((entry) => entry.isFile())
        .map((entry) => join(entry.parentPath, entry.name));
    })
    .filter((path) => READ.test(path))
    .map((path) => readSource(root, path))
    .sort((a, b) => (a.path < b.path ? -1 : 1));
}

function readSource(root: string, file: string): Source {
  const path = relative(root, file).split(sep).join("/");
  const text = readFileSync(file, "utf8");
  const parsed = parseSync(path, text);
  if (parsed.errors.length > 0) throw new Error(`${path}: ${parsed.errors[0]?.message}`);
  const program = parsed.program as unknown as Node;
  return {
    path,
    lines: text.split("\n").length,
    program,
    imports: [...importsOf(program, path)],
    lineOf: (node) => text.slice(0, node.start as number).split("\n").length,
  };
}

function* importsOf(program: Node, path: string): Generator<Import> {
  for (const node of everyNode(program)) {
    const source = node.source as Node | null | undefined;
    const value = source?.value;
    switch (node.type) {
      case "ImportDeclaration":
      case "ExportNamedDeclaration":
      case "ExportAllDeclaration": {
        if (typeof value !== "string") break;
        const whole = (node.importKind ?? node.exportKind) === "type";
        const parts = (node.specifiers as Node[] | undefined) ?? [];
        const typeOnly =
          whole || (parts.length > 0 && parts.every((part) => (part.importKind ?? part.exportKind) === "type"));
        yield resolved(
          path,
          value,
          typeOnly,
          parts.map((part) => String(((part.imported ?? part.local) as Node)?.name)),
        );
        break;
      }
      case "ImportExpression":
        if (typeof value === "string") yield resolved(path, value, false, []);
        break;
      case "TSImportType": {
        const named = (node.source ?? node.argument) as Node;
        const literal = (named.literal as Node | undefined)?.value ?? named.value;
        if (typeof literal === "string") yield resolved(path, literal, true, []);
        break;
      }
    }
  }
}

function resolved(path: string, request: string, typeOnly: boolean, names: readonly string[]): Import {
  const bare = request.split("?")[0] ?? request;
  if (!bare.startsWith(".")) return { target: bare, local: false, typeOnly, names };
  return { target: posix.join(dirname(path), bare), local: true, typeOnly, names };
}

/** Every node of a tree, parents before children. */
export function* everyNode(node: Node): Generator<Node> {
  yield node;
  for (const [key, value] of Object.entries(node)) {
    if (key === "parent" || typeof value !== "object" || value === null) continue;
    for (const child of Array.isArray(value) ? value : [value]) {
      if (typeof child === "object" && child !== null && typeof child.type === "string") yield* everyNode(child);
    }
  }
}
