/** What the architecture test looks for; each answers sentences, none when all is well. */
import { builtinModules } from "node:module";
import {
  DRIVER_FILES,
  GATEWAY,
  LAYERS,
  type Layer,
  LONG_FILES,
  MOST_LINES,
  RENDERER_VALUE_FILES,
  RENDERER_VALUES,
  WITHOUT_NODE,
  WRITING_PARTS,
} from "./layers.ts";
import { PACKAGES } from "./packages.ts";
import { everyNode, type Node, type Source } from "./source.ts";

export function layerOf(path: string): Layer | null {
  let best: { layer: Layer; length: number } | null = null;
  for (const layer of LAYERS) {
    for (const place of layer.holds) {
      if (path.startsWith(place) && place.length > (best?.length ?? 0)) best = { layer, length: place.length };
    }
  }
  return best?.layer ?? null;
}

export function importProblems(sources: readonly Source[]): string[] {
  return sources.flatMap((source) => {
    const layer = layerOf(source.path);
    if (!layer) return [`${source.path} belongs to no layer; give it one in tests/architecture/layers.ts`];
    return source.imports.flatMap((one) => {
      if (!one.local) return packageProblem(source, layer, one.target);
      const other = layerOf(one.target);
      if (!other) return [`${source.path} imports ${one.target}, which belongs to no layer`];
      if (other !== layer && !layer.uses.includes(other.name)) {
        return [`${source.path} (${layer.name}) must not import ${one.target} (${other.name}): ${layer.because}`];
      }
      if (layer.name === "renderer" && other !== layer && !one.typeOnly && !mayBeValue(one.target, other.name)) {
        return [
          `${source.path} may import only types from ${one.target}: its values belong to the process that holds the file`,
        ];
      }
      return [];
    });
  });
}

const mayBeValue = (target: string, layer: string): boolean =>
  RENDERER_VALUES.includes(layer) || RENDERER_VALUE_FILES.includes(target);

const NODE_MODULES = new Set(builtinModules);

function packageProblem(source: Source, layer: Layer, target: string): string[] {
  if (target.startsWith("node:") || NODE_MODULES.has(target)) {
    return WITHOUT_NODE(layer.name)
      ? [`${source.path} must not import ${target}: ${layer.name} runs without Node`]
      : [];
  }
  const name = target
    .split("/")
    .slice(0, target.startsWith("@") ? 2 : 1)
    .join("/");
  const granted = PACKAGES[name];
  if (!granted) return [`${source.path} imports ${name}, which tests/architecture/packages.ts doesn't list`];
  if (name === "better-sqlite3" && !DRIVER_FILES.includes(source.path)) {
    return [`${source.path} must not import the database driver; only ${DRIVER_FILES.join(", ")} know it`];
  }
  return granted.includes(layer.name)
    ? []
    : [`${source.path} must not import ${name}: ${layer.name} has no use for it`];
}

/** Packages that the project has and the table doesn't, and the other way round. */
export function packageListProblems(manifest: Readonly<Record<string, unknown>>): string[] {
  const present = new Set([
    ...Object.keys((manifest.dependencies ?? {}) as object),
    ...Object.keys((manifest.devDependencies ?? {}) as object),
  ]);
  const listed = new Set(Object.keys(PACKAGES));
  return [
    ...[...present]
      .filter((name) => !listed.has(name))
      .map((name) => `${name} is a dependency but has no line in the table of packages`),
    ...[...listed]
      .filter((name) => !present.has(name))
      .map((name) => `${name} is in the table of packages but no dependency`),
  ];
}

/** Files that import each other in a ring, each ring once. */
export function cycles(sources: readonly Source[]): string[] {
  const edges = new Map(
    sources.map((source) => [source.path, source.imports.filter((one) => one.local).map((one) => one.target)]),
  );
  const found: string[] = [];
  const done = new Set<string>();
  const trail: string[] = [];
  const visit = (path: string): void => {
    const at = trail.indexOf(path);
    if (at >= 0) {
      found.push(`files import each other in a ring: ${[...trail.slice(at), path].join(" -> ")}`);
      return;
    }
    if (done.has(path)) return;
    trail.push(path);
    for (const next of edges.get(path) ?? []) visit(next);
    trail.pop();
    done.add(path);
  };
  for (const path of edges.keys()) visit(path);
  return found;
}

export function sizeProblems(sources: readonly Source[]): string[] {
  return sources
    .filter((source) => source.lines > MOST_LINES && !(source.path in LONG_FILES))
    .map((source) => `${source.path} has ${source.lines} lines; above ${MOST_LINES} it is more than one idea`);
}

const MUTATORS = new Set(["insertInto", "updateTable", "deleteFrom", "replaceInto", "mergeInto"]);
const BUILDERS = new Set(["selectFrom", ...MUTATORS]);
const EXECUTORS = new Set([
  "execute",
  "executeTakeFirst",
  "executeTakeFirstOrThrow",
  "stream",
  "explain",
  "compile",
  "as",
  "$call",
]);
const MUTATING_SQL = /^\s*(insert|update|delete|replace|create|drop|alter|vacuum|pragma|begin|commit|attach)\b/i;
const CLOCKLESS = new Set([
  "console",
  "performance",
  "process",
  "globalThis",
  "setTimeout",
  "setInterval",
  "setImmediate",
]);

export function usageProblems(sources: readonly Source[]): string[] {
  return sources.flatMap((source) =>
    [...everyNode(source.program)].flatMap((node) =>
      usageProblem(source, node).map((problem) => `${source.path}:${source.lineOf(node)} ${problem}`),
    ),
  );
}

function usageProblem(source: Source, node: Node): string[] {
  const inCore = source.path.startsWith("core/");
  const problems: string[] = [];
  const say = (problem: string) => problems.push(problem);
  const called = node.type === "CallExpression" ? calledName(node) : null;

  if (inCore) {
    if (called?.object === "Date" && called.name === "now") say("reads the clock; time comes from the context");
    if (node.type === "NewExpression" && nameOf(node.callee) === "Date" && (node.arguments as Node[]).length === 0) {
      say("reads the clock; time comes from the context");
    }
    if (called?.object === "Math" && called.name === "random")
      say("is random; the same question must get the same answer");
    const global = called?.object ?? (called ? called.name : null);
    if (called && global !== null && CLOCKLESS.has(global)) say(`uses ${global}, which core doesn't have`);

    const mayWrite = source.path.startsWith(WRITING_PARTS);
    if (called && MUTATORS.has(called.name) && called.object !== null && !mayWrite) {
      say(`writes with ${called.name}; only the gateway writes`);
    }
    if (called?.name === "run" && !mayWrite && sqlOf(node) !== null) say("runs a statement; only the gateway writes");
    if (called?.name === "rows" && MUTATING_SQL.test(sqlOf(node) ?? "")) say("writes through a reader");
    if (called?.name === "write" && source.path !== GATEWAY && /store/i.test(called.object ?? "")) {
      say(`opens a write transaction; only ${GATEWAY} does`);
    }
    if (node.type === "ImportDeclaration" && !mayWrite && source.path.startsWith("core/")) {
      const names = ((node.specifiers as Node[]) ?? []).map((part) => nameOf(part.imported));
      if (names.includes("Writer")) say("takes the writing handle; only the gateway's parts do");
    }
  }

  if (called && /^(copyFile|copyFileSync|cp|cpSync)$/.test(called.name)) {
    say("copies files past the engine; copies of a plant are made by its own backup");
  }
  if (node.type === "AwaitExpression" || node.type === "ExpressionStatement") {
    const chain = chainOf((node.type === "AwaitExpression" ? node.argument : node.expression) as Node);
    const builds = chain.findIndex((name) => BUILDERS.has(name));
    if (builds >= 0 && !chain.slice(builds).some((name) => EXECUTORS.has(name))) {
      say("builds a query and never executes it");
    }
  }
  return problems;
}

const nameOf = (node: unknown): string | null => {
  const { type, name } = (node ?? {}) as Node;
  return type === "Identifier" ? String(name) : null;
};

/** `a.b.c(…)` is called `c` on `b`; `c(…)` is called `c` on nothing. */
function calledName(call: Node): { name: string; object: string | null } | null {
  const callee = call.callee as Node;
  if (callee.type === "Identifier") return { name: String(callee.name), object: null };
  if (callee.type !== "MemberExpression") return null;
  const object = callee.object as Node;
  const property = callee.property as Node;
  const holder = nameOf(object) ?? propertyName(object);
  return { name: String(property.name ?? property.value ?? ""), object: holder ?? "" };
}

/** The last name of `this.#store` or `a.store`. */
function propertyName(node: Node): string | null {
  return node.type === "MemberExpression" ? String((node.property as Node).name ?? "") : null;
}

/** The text of a call's first argument, when it is written there. */
function sqlOf(call: Node): string | null {
  const first = (call.arguments as Node[])[0];
  if (first?.type === "Literal" && typeof first.value === "string") return first.value;
  if (first?.type !== "TemplateLiteral") return null;
  const head = (first.quasis as Node[])[0]?.value as { raw?: string } | undefined;
  return head?.raw ?? "";
}

/** Names of the methods of `a.b(…).c(…)`, first to last. */
function chainOf(node: Node): string[] {
  const names: string[] = [];
  let at: Node | undefined = node;
  while (at) {
    if (at.type === "CallExpression") at = at.callee as Node;
    else if (at.type === "MemberExpression") {
      names.unshift(String((at.property as Node).name ?? ""));
      at = at.object as Node;
    } else break;
  }
  return names;
}
