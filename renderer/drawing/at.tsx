/** Puts a drawing part, drawn around its own middle, at a place given in percents or pixels. */
import type { ReactNode } from "react";

export function At({
  x,
  y,
  children,
}: {
  readonly x: number | string;
  readonly y: number | string;
  readonly children: ReactNode;
}) {
  return (
    <svg x={x} y={y} overflow="visible" aria-hidden="true">
      {children}
    </svg>
  );
}

/** A single mark in running text, `size` pixels square. */
export function Sign({ size = 12, children }: { readonly size?: number; readonly children: ReactNode }) {
  return (
    <svg
      className="sign"
      width={size}
      height={size}
      viewBox={`${-size / 2} ${-size / 2} ${size} ${size}`}
      aria-hidden="true"
    >
      {children}
    </svg>
  );
}
