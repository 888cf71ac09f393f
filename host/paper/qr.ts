/** A record's code as squares. */
import bwip from "bwip-js/node";
import type { Code } from "../../core/paper/document.ts";
import { INK, type Sheet } from "./sheet.ts";

/** Side of the whole symbol with its quiet zone of four modules (ISO/IEC 18004, from memory), in points: 27 mm. */
export const QR_SIDE = 76;
const QUIET_ZONE = 4;

export function drawQr({ pdf }: Sheet, { says }: Code, x: number, y: number): void {
  // The default export's `raw`: the export of that name by itself is a kind of bar code.
  const [symbol] = bwip.raw({ bcid: "qrcode", text: says, eclevel: "M" } as Parameters<typeof bwip.raw>[0]);
  if (!symbol || !("pixs" in symbol)) throw new Error("the code came without squares");
  const { pixs, pixx } = symbol;
  const module = QR_SIDE / (pixx + 2 * QUIET_ZONE);
  pdf.fillColor(INK);
  pixs.forEach((dark, index) => {
    if (!dark) return;
    const [column, row] = [index % pixx, Math.floor(index / pixx)];
    pdf.rect(x + (QUIET_ZONE + column) * module, y + (QUIET_ZONE + row) * module, module, module);
  });
  pdf.fill();
}
