/** Beside a question that named nothing on record: what comes close, and the questions that fit it. */

import { useCurrentView } from "../frame/current-view.ts";
import { addressOf } from "../frame/router.ts";
import { HitRow } from "./hit-row.tsx";
import { recordAddress } from "./tag-link.tsx";
import { useFound } from "./use-found.ts";

const MOST = 8;

export function NearBy({ asked }: { readonly asked: string }) {
  const { views } = useCurrentView();
  const whole = useFound(asked);
  // The part before the last separator: the cable of a strand, the panel of a port.
  const owner = useFound(asked.replace(/[:/#@][^:/#@]*$/, ""));
  const hits = whole.hits.length > 0 ? whole.hits : owner.hits;
  if (hits.length === 0) return null;
  return (
    <section className="near-by" aria-labelledby="near-by">
      <h2 id="near-by">On record, and close to it</h2>
      <ul>
        {hits.slice(0, MOST).map((hit) => {
          const view = views.find(({ fits, path }) => {
            return path !== "record" && fits && (fits.kinds === "every" || fits.kinds.includes(hit.ref.kind));
          });
          const address = view?.fits
            ? addressOf(view.path, { [view.fits.blank]: hit.ref.tag })
            : recordAddress(hit.ref);
          return (
            <li key={`${hit.ref.kind} ${hit.ref.id}`}>
              <a href={address}>
                <HitRow hit={hit} beside={view?.fits?.about ?? "Its record"} />
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
