/** The code on a printed packet, seen as a reader sees it: pages drawn by pdf.js in a browser, decoded by jsQR, found by search. */
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import type { AddressInfo } from "node:net";
import { type Browser, chromium, type Page } from "playwright";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { FindAnswer } from "../../core/operations/subjects/addresses.ts";
import { codeOf, type Document } from "../../core/paper/document.ts";
import { pdfOf } from "../../host/paper/pdf.ts";
import { newPlant } from "../support/plant.ts";

const find = createRequire(import.meta.url);
const SCRIPTS: Readonly<Record<string, string>> = {
  "/pdf.mjs": find.resolve("pdfjs-dist/build/pdf.mjs"),
  "/pdf.worker.mjs": find.resolve("pdfjs-dist/build/pdf.worker.mjs"),
  "/qr.js": find.resolve("jsqr"),
};
const PAGE = '<!doctype html><script src="/qr.js"></script>';
let shown: Buffer;
const server = createServer((request, response) => {
  const script = SCRIPTS[request.url ?? ""];
  const type = script ? "text/javascript" : request.url === "/paper.pdf" ? "application/pdf" : "text/html";
  response.writeHead(200, { "content-type": type, "cache-control": "no-store" });
  response.end(script ? readFileSync(script) : request.url === "/paper.pdf" ? shown : PAGE);
});
let browser: Browser;
let page: Page;

beforeAll(async () => {
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  browser = await chromium.launch({
    executablePath: process.env.STRANDBOOK_BROWSER ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu"],
  });
  page = await browser.newPage();
  await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
});
afterAll(async () => {
  await browser?.close();
  server.close();
});

/** What stands in the one code of each page; null where none is seen. 150 dots an inch: a page held before a camera. */
async function seen(bytes: Buffer): Promise<(string | null)[]> {
  shown = bytes;
  // Written as text: the page's own names are no part of this file's types.
  return page.evaluate(`(async () => {
    const pdf = await import("/pdf.mjs");
    pdf.GlobalWorkerOptions.workerSrc = "/pdf.worker.mjs";
    const paper = await pdf.getDocument("/paper.pdf").promise;
    const codes = [];
    for (let number = 1; number <= paper.numPages; number++) {
      const sheet = await paper.getPage(number);
      const viewport = sheet.getViewport({ scale: 150 / 72 });
      const canvas = new OffscreenCanvas(Math.ceil(viewport.width), Math.ceil(viewport.height));
      const pen = canvas.getContext("2d");
      await sheet.render({ canvas: null, canvasContext: pen, viewport }).promise;
      const { data } = pen.getImageData(0, 0, canvas.width, canvas.height);
      codes.push(jsQR(data, canvas.width, canvas.height)?.data ?? null);
    }
    return codes;
  })()`) as Promise<(string | null)[]>;
}

const titled = (code: Document["title"]["code"]): Document["title"] => ({
  what: "Sheet",
  plant: "Testhof",
  made_on: "2026-04-05",
  revision: null,
  who: null,
  code,
});

describe("a code on paper", () => {
  it("leads from a job's packet to the job, by way of the search", async () => {
    const plant = await newPlant();
    await plant.run("job.enter", { job: "J-21", steps: [{ words: "Look at the hole." }] });
    await plant.run("job.enter", { job: "J-210", steps: [{ words: "Look at another." }] });
    const packet = await plant.run<Document>("job.print", { job: "J-21" });
    const [read] = await seen((await pdfOf(packet, "a4")).bytes);
    expect(read).toBe("sbok:job:J-21");
    const { hits } = await plant.run<FindAnswer>("address.find", { text: read });
    expect(hits[0]?.ref).toMatchObject({ kind: "job", tag: "J-21" });
  });
  it("is read from the title and from a block, for addresses of every sort, on either paper", async () => {
    const codes = [codeOf("stop", "F-012@3"), codeOf("port", "LIB/101/SW-2:1/0/24"), codeOf("building", "Größe")];
    for (const code of codes) {
      for (const size of ["a4", "letter"] as const) {
        const title = await pdfOf({ paper: "document", title: titled(code), blocks: [{ is: "page" }] }, size);
        const block = await pdfOf({ paper: "document", title: titled(null), blocks: [{ is: "code", code }] }, size);
        expect([...(await seen(title.bytes)), ...(await seen(block.bytes))]).toEqual([code.says, null, code.says]);
      }
    }
  });
});
