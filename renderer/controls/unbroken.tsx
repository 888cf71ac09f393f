/** Running text in which no tag is parted at its hyphens and strokes when a line ends; the text itself is as it was, to be copied and found. */
import { createElement, Fragment, isValidElement, type ReactNode } from "react";

/** What is longer is a list, and may be parted. */
const MOST = 32;
/** What a hyphen, a stroke or a colon holds together, with what is written close to it. */
const JOINED = /([^\s()"“”]*[\p{L}\p{N}][-/:][\p{L}\p{N}][^\s()"“”]*)/u;
/** Words of the language that are written so may be parted: a tag has a digit, or letters of its own. */
const TAG = /\p{N}|\p{Lu}{2}/u;

export function unbroken(text: string): ReactNode {
  if (!JOINED.test(text)) return text;
  const parts = text.split(JOINED);
  const whole = (part: string, index: number): boolean => index % 2 === 1 && part.length <= MOST && TAG.test(part);
  if (!parts.some(whole)) return text;
  return createElement(
    Fragment,
    null,
    ...parts.map((part, index) => (whole(part, index) ? createElement("span", { className: "nowrap" }, part) : part)),
  );
}

/** The same of what is put together of words and elements: the elements stay as they are. */
export function wordsUnbroken(node: ReactNode): ReactNode {
  if (typeof node === "string") return unbroken(node);
  if (!isValidElement<{ readonly children?: ReactNode }>(node) || node.type !== Fragment) return node;
  const { children } = node.props;
  return createElement(Fragment, null, ...(Array.isArray(children) ? children : [children]).map(wordsUnbroken));
}
