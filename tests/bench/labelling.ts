/** What a clerk asks who prints a stack of labels. */
import PDFDocument from "pdfkit";
import type { LabelPaper } from "../../core/paper/label-paper.ts";
import { labelsPdf } from "../../host/paper/label-pdf.ts";
import { registerFaces } from "../../host/paper/letters.ts";
import { ask, type Ground, settled } from "./ground.ts";
import { interleaved, type Line, timed } from "./measure.ts";

const MOST = 1000;
const LINES = 3;
/** So many panels are named at once. */
const PANELS = 200;

/** A thousand labels of ports, or as many as a small plant has, each with its QR code and three lines, from the record to the PDF. */
export async function labelling(ground: Ground): Promise<Line[]> {
  const application = await settled(ground.path);
  const { rows } = await ask<{ rows: { address: string }[] }>(application, "record.window", {
    kind: "panel",
    limit: PANELS,
    columns: [],
  });
  const draft = { place: "port", text: "{port}\n<{strand}>\n<to {to}>" };
  const of: string[] = [];
  let count = 0;
  while (count < MOST && of.length < rows.length) {
    const { address } = rows[of.length] as { address: string };
    of.push(address);
    count += (await ask<{ count: number }>(application, "label.list", { of: [address], only: ["port"] })).count;
  }
  const asked = { of, only: ["port"], draft, sheet: "67 x 25, 3 by 10" };
  const print = async (code = "qr") => {
    const paper = await ask<LabelPaper>(application, "label.print", { ...asked, draft: { ...draft, code } });
    if (paper.labels !== count) throw new Error(`only ${paper.labels} labels`);
    const { bytes } = await labelsPdf(paper);
    if (bytes.length < 10_000) throw new Error("a PDF without labels");
  };
  // Codes are kept once they are made, so that the first time costs more than any later one. What is loaded once, and the
  // engine's own warming up, are not measured.
  await print("none");
  const first = await timed(() => print());
  const medians = await interleaved(
    5,
    () => timed(() => print()),
    () => timed(() => bareTexts(count * LINES)),
  );
  await application.close();
  const line = (name: string, bound: number, ours: number): Line => ({
    name: `${count.toLocaleString("en")} labels to PDF, ${name}`,
    bound,
    against: `${count * LINES} bare texts written to a PDF`,
    strands: ground.strands,
    ratio: ours / medians.theirs,
    ours,
    theirs: medians.theirs,
    unit: "ms",
  });
  return [line("first", 8, first), line("again", 6, medians.ours)];
}

/** The least that such a PDF takes: as many texts, each at a place that is known before. */
async function bareTexts(texts: number): Promise<void> {
  const pdf = new PDFDocument({ autoFirstPage: false });
  registerFaces(pdf);
  const done = new Promise((resolve) => pdf.on("end", resolve));
  pdf.on("data", () => {});
  for (let text = 0; text < texts; text += 1) {
    if (text % 90 === 0) pdf.addPage({ size: "LETTER", margin: 0 });
    pdf
      .font(text % LINES === 0 ? "bold" : "text")
      .fontSize(9)
      .text(`F-${1000 + text}:1-2`, (text % LINES) * 190, Math.floor((text % 90) / LINES) * 25, { lineBreak: false });
  }
  pdf.end();
  await done;
}
