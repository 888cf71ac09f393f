/** A part of the page that F6 goes to: sentence, drawing, ledger, leaf, foot. */
import type { ReactNode } from "react";

export interface RegionProps {
  readonly name: "head" | "sentence" | "drawing" | "ledger" | "leaf" | "foot";
  /** Read aloud on entering. */
  readonly label: string;
  readonly as?: "section" | "aside" | "header" | "footer";
  readonly className?: string;
  /** It may scroll and hold nothing to be focused: then the keyboard must get into it. */
  readonly reachable?: boolean;
  readonly children: ReactNode;
}

export function Region({ name, label, as: Tag = "section", className, reachable, children }: RegionProps) {
  return (
    <Tag className={className} aria-label={label} data-region={name} tabIndex={reachable ? 0 : -1}>
      {children}
    </Tag>
  );
}

const FOCUSABLE =
  'a[href], button:not(:disabled), input:not(:disabled), select:not(:disabled), textarea:not(:disabled), [tabindex="0"]';

/** Rows and drawings that are walked with the arrows come before the links in them. */
const WALKED = 'tr[tabindex="0"], [role="row"][tabindex="0"], [role="slider"], [role="grid"] [tabindex="0"]';

/** Moves the focus to the next (or previous) region: to what was last focused in it, else its first control. */
export function nextRegion(step: 1 | -1): void {
  const regions = [...document.querySelectorAll<HTMLElement>("[data-region]")].filter(
    (one) => one.offsetParent !== null,
  );
  if (regions.length === 0) return;
  const at = regions.findIndex((region) => region.contains(document.activeElement));
  const next = regions[(at + step + regions.length) % regions.length];
  if (!next) return;
  const inside = next.querySelector<HTMLElement>(WALKED) ?? next.querySelector<HTMLElement>(FOCUSABLE);
  (inside ?? next).focus();
}
