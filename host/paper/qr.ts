/** A record's code as squares. */
import type { Code } from "../../core/paper/document.ts";
import { lettering } from "./lettering.ts";
import { INK, type Sheet } from "./sheet.ts";

/** Side of the whole symbol with its quiet zone of four modules (ISO/IEC 18004, from memory), in points: 27 mm. */
export const QR_SIDE = 76;
const QUIET_ZONE = 4;

export function drawQr({ pdf }: Sheet, { says }: Code, x: number, y: number): void {
  const { columns, dark } = lettering.symbol("qr", says);
  const module = QR_SIDE / (columns + 2 * QUIET_ZONE);
  pdf.fillColor(INK);
  for (const { index } of dark.matchAll(/1/g)) {
    const [column, row] = [index % columns, Math.floor(index / columns)];
    pdf.rect(x + (QUIET_ZONE + column) * module, y + (QUIET_ZONE + row) * module, module, module);
  }
  pdf.fill();
}
