/** A window asks for an operation's document on paper: the host runs the operation, and the page gets a PDF. */
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { defineRead } from "../../core/operations/define.ts";
import type { Document } from "../../core/paper/document.ts";
import type { LabelPaper } from "../../core/paper/label-paper.ts";
import { readPdf } from "../paper/read-pdf.ts";
import { type Host, PROBES, startHost } from "./support.ts";

const documentOf = (what: string): Document => ({
  paper: "document",
  title: { what, plant: "Testhof", made_on: "2026-04-05", revision: 3, who: null, code: null },
  blocks: [{ is: "paragraph", text: "Read on the way." }],
});
const printing = defineRead({
  name: "probe.print",
  help: "Answers a document.",
  input: z.strictObject({ what: z.string() }),
  run: async (_context, { what }) => documentOf(what),
});
const LONG = 3000;
const printingLong = defineRead({
  name: "probe.print_long",
  help: "Answers a document with a long table.",
  input: z.strictObject({}),
  run: async (): Promise<Document> => ({
    ...documentOf("Long"),
    blocks: [
      {
        is: "table",
        caption: null,
        columns: [{ head: "Row" }],
        rows: Array.from({ length: LONG }, (_, index) => [String(index)]),
      },
    ],
  }),
});
/** A stack of labels, one to a page, as a tape has them. */
const printingLabels = defineRead({
  name: "probe.print_labels",
  help: "Answers many pages of labels.",
  input: z.strictObject({}),
  run: async (): Promise<LabelPaper> => ({
    ...{ paper: "labels", title: "Labels", made_on: "2026-04-05", labels: LONG, missing: [] },
    left_out: { labels: 0, why: [] },
    pages: Array.from({ length: LONG }, (_, index) => ({
      ...{ width_mm: 60, height_mm: 24, codes: [], outlines: [], rules: [] },
      lines: [{ text: `F-${index}`, face: "bold", x_mm: 5, y_mm: 12, size_mm: 4, width_mm: 20 }],
    })),
  }),
});
const asked = { id: "p1", name: "probe.print", input: { what: "Packet for job J-1" }, size: "a4" };
const start = (): Promise<Host> => startHost({ operations: [...PROBES, printing, printingLong, printingLabels] });
const paper = (host: Host, body: unknown, headers: Record<string, string | undefined> = {}) =>
  host.call(body, { path: "/paper", headers });
async function pdf(host: Host, body: unknown) {
  const { port, token } = host;
  const response = await fetch(`http://127.0.0.1:${port}/paper`, {
    method: "POST",
    headers: { origin: `http://127.0.0.1:${port}`, "content-type": "application/json", "x-strandbook-token": token },
    body: JSON.stringify(body),
  });
  return { headers: response.headers, read: await readPdf(new Uint8Array(await response.arrayBuffer())) };
}

describe("a page that asks for paper", () => {
  it("gets the operation's document as a PDF of the size asked for, with its name and pages", async () => {
    const host = await start();
    const { headers, read } = await pdf(host, { ...asked, size: "letter" });
    expect(headers.get("content-type")).toBe("application/pdf");
    expect(headers.get("content-disposition")).toContain('attachment; filename="Packet for job J-1.pdf"');
    expect(headers.get("x-strandbook-pages")).toBe("1");
    expect(headers.get("cache-control")).toBe("no-store");
    expect(read.text).toContain("Read on the way.");
    expect(read.info.Title).toBe("Packet for job J-1");
    expect([read.pages[0]?.width, read.pages[0]?.height]).toEqual([612, 792]);
  });
  it("gets a file name that every system takes, whatever a record is called", async () => {
    const host = await start();
    for (const [what, plain, full] of [
      ['a/b\\c:d*?"<>|\r\nX', "a-b-c-d-X.pdf", "a-b-c-d-X.pdf"],
      ["Größe 光", "Gr__e _.pdf", "Größe 光.pdf"],
      ["../..", "paper.pdf", "paper.pdf"],
      ["x".repeat(300), `${"x".repeat(80)}.pdf`, `${"x".repeat(80)}.pdf`],
    ] as const) {
      const { headers } = await pdf(host, { ...asked, input: { what } });
      expect(headers.get("content-disposition")).toBe(
        `attachment; filename="${plain}"; filename*=UTF-8''${encodeURIComponent(full)}`,
      );
    }
  });
  it("is told which characters the fonts lack", async () => {
    const { headers } = await pdf(await start(), { ...asked, input: { what: "光 and 站" } });
    expect((headers.get("x-strandbook-missing") ?? "").split(" ").map(decodeURIComponent)).toEqual(["光", "站"]);
  });
  it("gets an operation's refusal as it stands", async () => {
    const { status, json } = await paper(await start(), { ...asked, name: "probe.refuse", input: {} });
    expect([status, json.ok, json.error.code, json.error.problems.length]).toEqual([200, false, "not_found", 1]);
  });
  it("is refused when the operation answers no document", async () => {
    const { json } = await paper(await start(), { ...asked, name: "probe.echo", input: { what: "x" } });
    expect(json.error).toMatchObject({
      code: "bad_input",
      message: "probe.echo answers nothing that could be printed.",
    });
  });
  it("can't hand in a document of its own, nor write on the way", async () => {
    const host = await start();
    const own = await paper(host, { ...asked, document: documentOf("mine") });
    expect(own.json.error.code).toBe("bad_input");
    const echoed = await paper(host, { ...asked, input: documentOf("mine") });
    expect(echoed.json.error.code).toBe("bad_input");
    for (const occasion of [undefined, { author: "Test Person" }]) {
      const note = { id: "w", name: "probe.note", input: { notes: "x" }, size: "a4", ...(occasion && { occasion }) };
      expect((await paper(host, note)).json.error.code).toBe("bad_input");
    }
    expect((await host.call({ id: "e", name: "probe.echo", input: { what: "x" } })).json.revision).toBe(0);
  });
  it("is refused another size, an unknown operation, and a defect without its inner words", async () => {
    const host = await start();
    expect((await paper(host, { ...asked, size: "a3" })).json.error.code).toBe("bad_input");
    expect((await paper(host, { ...asked, name: "probe.none" })).json.error.code).toBe("unknown_operation");
    const broken = await paper(host, { ...asked, name: "probe.break", input: {} });
    expect(broken.json.error.code).toBe("internal");
    expect(broken.text).not.toContain("secret inner words");
  });
  it.each(["probe.print_long", "probe.print_labels"])(
    "can stop the writing of a long paper, %s, and the next is written all the same",
    async (name) => {
      const host = await start();
      const long = { id: "p9", name, input: {}, size: "a4" };
      const coming = paper(host, long);
      for (let stopped = false; !stopped; ) {
        const answer = await host.call({ id: "p9" }, { path: "/stop" });
        stopped = (answer.json as { readonly stopped?: boolean }).stopped === true;
      }
      expect((await coming).json).toMatchObject({ ok: false, error: { code: "stopped" } });
      const { headers } = await pdf(host, { ...long, id: "p10" });
      expect(headers.get("content-type")).toBe("application/pdf");
    },
  );
});

describe("somebody else who asks for paper", () => {
  it("is turned away as from any call: no token, another page, another method", async () => {
    const host = await start();
    expect((await paper(host, asked, { "x-strandbook-token": "guessed" })).status).toBe(401);
    expect((await paper(host, asked, { "x-strandbook-token": undefined })).status).toBe(401);
    expect((await paper(host, asked, { origin: "http://plant.example" })).status).toBe(403);
    expect((await paper(host, asked, { "content-type": "text/plain" })).status).toBe(415);
    expect((await paper(host, asked, { host: "localhost" })).status).toBe(421);
    expect((await host.raw({ path: "/paper" })).status).toBe(405);
  });
});
