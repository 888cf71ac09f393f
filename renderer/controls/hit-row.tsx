/** One record found, as it stands in a list: its tag, what and where it is, and what made it fit. */
import type { ReactNode } from "react";
import type { Hit } from "./use-found.ts";

export function HitRow({ hit, beside }: { readonly hit: Hit; readonly beside?: ReactNode }) {
  return (
    <span className="hit">
      <span className="hit-what">
        <span className="tag strong">{hit.ref.tag}</span> <span className="soft">{hit.what}</span>
        {beside ? <span className="hit-beside">{beside}</span> : null}
      </span>
      <span className="hit-where">{[hit.name, hit.place, hit.note].filter(Boolean).join(" · ")}</span>
    </span>
  );
}
