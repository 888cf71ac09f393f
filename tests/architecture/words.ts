/** Looks for words that the window shows without sending them through the catalogue of messages. */
import { everyNode, type Node, type Source } from "./source.ts";

/** Attributes whose text people read or hear. */
const READ = new Set(["label", "title", "placeholder", "aria-label", "alt", "note", "heading", "answer", "hint"]);
/** The same in every language: symbols of units, what is printed on keys, the program's name. */
const ALIKE = new Set([
  ...["dB", "dBm", "nm", "mm", "km", "kB", "MB", "ft", "dpi"],
  ...["Ctrl", "Alt", "Shift", "Enter", "Esc", "Home", "End", "Tab"],
  "Strandbook",
]);

export function bareWords(sources: readonly Source[]): string[] {
  return sources
    .filter(({ path }) => path.startsWith("renderer/"))
    .flatMap((source) =>
      [...everyNode(source.program)].flatMap((node) =>
        shownTexts(node)
          .filter(hasWords)
          .map(
            (text) =>
              `${source.path}:${source.lineOf(node)} shows "${text.trim()}" past the catalogue; put it in say\`…\``,
          ),
      ),
    );
}

const hasWords = (text: string): boolean =>
  (text.match(/\p{L}[\p{L}’']+/gu) ?? []).some((word) => /\p{Ll}/u.test(word) && !ALIKE.has(word));

/** Texts that a node shows as they stand. */
function shownTexts(node: Node): string[] {
  switch (node.type) {
    case "JSXText":
      return [String(node.value)];
    case "JSXElement":
    case "JSXFragment":
      return (node.children as Node[])
        .filter((child) => child.type === "JSXExpressionContainer")
        .flatMap((child) => writtenOut(child.expression as Node));
    case "JSXAttribute": {
      const value = node.value as Node | null;
      if (!value || !READ.has(String((node.name as Node).name))) return [];
      return writtenOut(value.type === "JSXExpressionContainer" ? (value.expression as Node) : value);
    }
    default:
      return [];
  }
}

/** Texts that an expression may come to without a tag: written out, or in the branches of a choice. */
function writtenOut(node: Node): string[] {
  switch (node.type) {
    case "Literal":
      return typeof node.value === "string" ? [node.value] : [];
    case "TemplateLiteral":
      return (node.quasis as Node[]).map(({ value }) => (value as { cooked: string }).cooked);
    case "ConditionalExpression":
      return [...writtenOut(node.consequent as Node), ...writtenOut(node.alternate as Node)];
    case "LogicalExpression":
      return [...(node.operator === "&&" ? [] : writtenOut(node.left as Node)), ...writtenOut(node.right as Node)];
    case "ParenthesizedExpression":
      return writtenOut(node.expression as Node);
    default:
      return [];
  }
}
