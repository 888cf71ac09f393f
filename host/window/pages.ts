/** The built window as a fixed list of files in memory, and the headers both shells serve it with. */
import { readdir, readFile } from "node:fs/promises";
import { extname, join, relative, sep } from "node:path";
import { type WindowWords, WORDS_PATH } from "../../core/words/wire.ts";

export interface Page {
  readonly type: string;
  readonly body: Buffer<ArrayBuffer>;
}

/** By the path it is asked under, such as `/` and `/assets/index-4f2a.js`. Nothing else is ever served. */
export type Pages = ReadonlyMap<string, Page>;

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".woff": "font/woff",
  ".json": "application/json",
  ".txt": "text/plain; charset=utf-8",
};

export async function readPages(folder: string): Promise<Pages> {
  const pages = new Map<string, Page>();
  for (const entry of await readdir(folder, { withFileTypes: true, recursive: true })) {
    const type = TYPES[extname(entry.name)];
    if (!entry.isFile() || !type) continue;
    const file = join(entry.parentPath, entry.name);
    const path = `/${relative(folder, file).split(sep).join("/")}`;
    pages.set(path === "/index.html" ? "/" : path, { type, body: await readFile(file) });
  }
  if (!pages.has("/")) throw new Error(`No built window in ${folder}.`);
  return withWords(pages, ENGLISH);
}

/** What is spoken where nobody chose. */
const ENGLISH: WindowWords = { language: null, offered: [], missing: 0, wrong: 0 };

/** The same with the words of the language spoken, which the page asks for before it loads the rest of itself. */
export const withWords = (pages: Pages, words: WindowWords): Pages =>
  new Map([...pages, [WORDS_PATH, { type: TYPES[".json"] ?? "", body: Buffer.from(JSON.stringify(words)) }]]);

/**
 * Scripts, styles and fonts only from our own files; no frames, forms, plug-ins or foreign connections.
 * `data:` and `blob:` pictures are drawings that the page made itself.
 */
export const CONTENT_POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "worker-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
  "object-src 'none'",
].join("; ");

export const GUARD_HEADERS: Readonly<Record<string, string>> = {
  "content-security-policy": CONTENT_POLICY,
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-opener-policy": "same-origin",
  "cross-origin-resource-policy": "same-origin",
  "permissions-policy": "camera=(), microphone=(), geolocation=(), usb=(), serial=(), hid=(), payment=()",
  "cache-control": "no-store",
};
