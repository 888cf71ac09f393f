/** Columns that stay in view: each stands at its own place from the left, which the table says once. */
import type { CSSProperties } from "react";

export const keptClass = (own: string, at: number, kept: number): string =>
  at < kept ? `${own} kept${at === kept - 1 ? " kept-last" : ""}` : own;

export const keptPlace = (at: number, kept: number): CSSProperties | undefined =>
  at < kept ? { left: `var(--kept-${at})` } : undefined;
