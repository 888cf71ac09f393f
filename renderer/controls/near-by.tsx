/** Beside a question that named nothing on record: what comes close, and the questions that fit it. */
import { KINDS, type KindName } from "../../core/model/dictionary.ts";
import { say } from "../../core/words/say.ts";
import { useCurrentView } from "../frame/current-view.ts";
import { addressOf } from "../frame/router.ts";
import { isBlank } from "../views/view.ts";
import { HitRow } from "./hit-row.tsx";
import { recordAddress } from "./tag-link.tsx";
import { useFound } from "./use-found.ts";

const MOST = 8;

export function NearBy({
  asked,
  nearest = [],
  kinds,
}: {
  readonly asked: string;
  /** Tags that the refusal itself names as close. */
  readonly nearest?: readonly string[];
  /** What was asked about, where the question's blank doesn't say it. */
  readonly kinds?: readonly KindName[];
}) {
  const { views } = useCurrentView();
  const whole = useFound(asked);
  // The part before the last separator: the cable of a strand, the panel of a port.
  const owner = useFound(asked.replace(/[:/#@][^:/#@]*$/, ""));
  const hits = whole.hits.length > 0 ? whole.hits : owner.hits;
  if (hits.length === 0) {
    if (whole.pending || owner.pending) return null;
    return nearest.length > 0 ? <Nearest tags={nearest} /> : <Tables kinds={kinds} />;
  }
  return (
    <section className="near-by" aria-labelledby="near-by">
      <h2 id="near-by">{say`On record, and close to it`}</h2>
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
                <HitRow hit={hit} beside={view?.fits?.about ?? say`Its record`} />
              </a>
            </li>
          );
        })}
      </ul>
    </section>
  );
}

/** The same question about what is called nearly so. */
function Nearest({ tags }: { readonly tags: readonly string[] }) {
  const { view } = useCurrentView();
  const blank = view.question.filter(isBlank).find(({ fill }) => fill === "record");
  if (!blank) return null;
  return (
    <section className="near-by" aria-labelledby="near-by">
      <h2 id="near-by">{say`On record, and close to it`}</h2>
      <ul>
        {tags.map((tag) => (
          <li key={tag}>
            <a className="tag" href={addressOf(view.path, { [blank.name]: tag })}>
              {tag}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Where nothing is called so: the tables of what the question could be asked about. */
function Tables({ kinds }: { readonly kinds?: readonly KindName[] | undefined }) {
  const { view, views } = useCurrentView();
  const blank = view.question.filter(isBlank).find(({ fill }) => fill === "record");
  const some: readonly KindName[] =
    kinds ?? ((blank?.fill === "record" && blank.kinds) || ["building", "cable", "circuit"]);
  if (!views.some(({ path }) => path === "enter")) return null;
  return (
    <section className="near-by" aria-labelledby="near-by">
      <h2 id="near-by">{say`Nothing on record comes close`}</h2>
      <ul>
        {some.slice(0, 5).map((kind) => (
          <li key={kind}>
            <a href={addressOf("enter", { kind })}>{say`Every ${KINDS[kind].one} on record`}</a>
          </li>
        ))}
      </ul>
    </section>
  );
}
