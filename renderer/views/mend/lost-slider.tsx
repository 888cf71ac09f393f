/** What if more is destroyed? Metres lost on each side of the cut, by arrow keys or pointer; the plans follow. */
import { useEffect, useId, useState } from "react";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { goWith } from "../../frame/router.ts";

const MOST_M = 60;
/** So long the hand must rest before it is asked. */
const REST_MS = 150;

/** @param planning what is shown beside it was asked before, and the new plans are on their way */
export function LostSlider({ lost_m, planning }: { readonly lost_m: number; readonly planning: boolean }) {
  const id = useId();
  const length = useLength();
  const [chosen, choose] = useState<number | null>(null);
  const shown = chosen ?? lost_m;
  useEffect(() => {
    if (chosen === null) return;
    const rest = setTimeout(() => goWith({ lost: String(chosen) }, { replace: true }), REST_MS);
    return () => clearTimeout(rest);
  }, [chosen]);
  return (
    <div className="mend-what-if">
      <label htmlFor={id}>{say`What if more is destroyed?`}</label>
      <input
        id={id}
        type="range"
        min="0"
        max={Math.max(MOST_M, Math.ceil(lost_m))}
        step="0.5"
        value={shown}
        aria-valuetext={say`${length(shown, 1)} on each side`}
        onChange={({ currentTarget }) => choose(Number(currentTarget.value))}
      />
      <output htmlFor={id}>{say`${length(shown, 1)} on each side`}</output>
      <span className="soft" role="status">
        {planning ? say`Planning; what stands here is for ${length(lost_m, 1)}` : ""}
      </span>
    </div>
  );
}
