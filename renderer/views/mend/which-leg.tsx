/** A cut of which nobody knows even the leg: where to look first, and each leg's own ways; a job is made of one of them. */
import type { MendWhole } from "../../../core/repair/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { addressOf } from "../../frame/router.ts";

export function WhichLeg({ answer: { cable, cut, line } }: { readonly answer: MendWhole }) {
  const length = useLength();
  if (cut.passes.length === 0) return null;
  const [from, to] = [cut.after, cut.until].map((one) => line.stops.findIndex(({ stop }) => stop.id === one?.id)) as [
    number,
    number,
  ];
  const stops = line.stops.slice(from, to + 1);
  return (
    <section className="locate-part" aria-labelledby="mend-which-leg">
      <h2 id="mend-which-leg">{say`In which leg is it cut? Look at ${cut.passes.join(", ")}`}</h2>
      <ul className="teach-ways">
        {stops.slice(1).map(({ stop, name, at_m }, index) => {
          const before = stops[index];
          return (
            <li key={stop.id}>
              <a
                className="link"
                href={addressOf("mend", { of: cable.tag, after: before?.stop.tag ?? "", until: stop.tag })}
              >
                {sayWith`between ${before?.name} and ${name}`}
              </a>{" "}
              <span className="soft">{length(at_m - (before?.at_m ?? 0) - (before?.through_m ?? 0))}</span>
            </li>
          );
        })}
      </ul>
      <p className="soft">{say`A job is made of the ways of one leg, for it begins with the cut on record.`}</p>
    </section>
  );
}
