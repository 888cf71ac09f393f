/** Pictures of a page for whoever looks at it: in both themes, at both sizes, in the folder that they name. */
import { mkdirSync } from "node:fs";
import type { Page } from "playwright";
import { SIZES } from "./window.ts";

/** The folder, or null when nobody wants pictures. */
export function pictures(): string | null {
  const folder = process.env.STRANDBOOK_PICTURES;
  if (!folder) return null;
  mkdirSync(folder, { recursive: true });
  return folder;
}

export async function picture(page: Page, name: string): Promise<void> {
  const folder = pictures();
  if (!folder) return;
  for (const theme of ["light", "dark"] as const) {
    await page.emulateMedia({ colorScheme: theme });
    for (const [size, viewport] of Object.entries(SIZES)) {
      await page.setViewportSize(viewport);
      await page.screenshot({ path: `${folder}/${name}-${theme}-${size}.png` });
    }
  }
  await page.emulateMedia({ colorScheme: "light" });
  await page.setViewportSize(SIZES.laptop);
}
