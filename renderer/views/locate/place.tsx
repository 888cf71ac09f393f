/** One place in the ledger: the mark and the places beside it, what lies within its band, and where that is on the ground. */
import type { BreakPlace, Candidate, Where } from "../../../core/locate/answer.ts";
import { say } from "../../../core/words/say.ts";
import { decimal, useLength } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { addressOf } from "../../frame/router.ts";

export const recordsAt = ({ from, where, candidates }: BreakPlace) => [
  where.cable,
  where.place,
  where.record,
  ...where.ways,
  ...where.between.map(({ place }) => place),
  ...from,
  ...candidates.map(({ record }) => record),
];

/** Only a break in a leg says between which places the cable is cut. */
export function mendAddress({ where }: BreakPlace): string | null {
  if (where.kind !== "leg" || !where.cable) return null;
  const [first] = where.between;
  return addressOf("mend", {
    of: where.cable.tag,
    ...(where.mark ? { mark: String(Math.round(where.mark.value)) } : first?.place ? { after: first.place.tag } : {}),
  });
}

/** The cable on the plan of the campus, with the spot and how far off it may be where its coordinates are known. */
export function planAddress({ where: { cable, coordinate }, band }: BreakPlace): string | null {
  if (!cable) return null;
  const off_m = coordinate ? band.likely_m + coordinate.accuracy_m : 0;
  return addressOf("plan", {
    of: cable.tag,
    mark: coordinate ? `${coordinate.longitude},${coordinate.latitude}` : null,
    off: coordinate ? String(Math.round(off_m * 10) / 10) : null,
  });
}

interface HeadProps {
  /** Smaller under the heading of one place of several. */
  readonly head: "h2" | "h3";
}

export function Beside({ where, name, head: Head }: HeadProps & { readonly where: Where; readonly name: string }) {
  const length = useLength();
  if (!where.cable && where.between.length === 0) return null;
  return (
    <div className="locate-part">
      <Head>{name}</Head>
      <dl className="facts">
        <div>
          <dt>{say`Sheath mark`}</dt>
          <dd>
            {where.mark
              ? `${decimal(where.mark.value, 0)} ${where.mark.unit ?? ""}${
                  where.mark.least === null || where.mark.most === null
                    ? ""
                    : say`, likely ${decimal(where.mark.least, 0)} to ${decimal(where.mark.most, 0)} ${where.mark.unit ?? ""}`
                }`
              : (where.mark_lacks ?? say`not on record`)}
          </dd>
        </div>
        {where.between.map((place) => (
          <div key={place.words}>
            <dt>{place.place ? <TagLink record={place.place} /> : place.words}</dt>
            <dd>
              {place.mark === null
                ? say`${length(place.metres)} from its mouth`
                : say`${length(place.metres)} from its mouth, mark ${decimal(place.mark, 0)} ${where.mark?.unit ?? ""} there`}
            </dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

export function Within({ some, head: Head }: HeadProps & { readonly some: readonly Candidate[] }) {
  const length = useLength();
  return (
    <div className="locate-part">
      <Head>{say`Within the band: look at these first`}</Head>
      <table className="locate-table">
        <thead>
          <tr>
            <th>{say`what`}</th>
            <th>{say`where`}</th>
            <th className="figure">{say`off`}</th>
            <th>{say`how likely`}</th>
          </tr>
        </thead>
        <tbody>
          {some.map((one) => (
            <tr key={`${one.kind} ${one.record.kind} ${one.record.id} ${one.off_m}`}>
              <td>
                <Tagged text={one.words} records={[one.record]} />
              </td>
              <td>{one.place ? <TagLink record={one.place} /> : <span className="faint">{say`on the way`}</span>}</td>
              <td className="figure">{one.off_m === 0 ? say`here` : length(one.off_m)}</td>
              <td>{one.likely ? say`within the likely band` : say`only within the bound`}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

/** A coordinate, with how far off it may be; or why there is none. */
export function Ground({
  where: { coordinate, coordinate_lacks, cable },
  head: Head,
}: HeadProps & { readonly where: Where }) {
  if (!coordinate && !cable) return null;
  return (
    <div className="locate-part">
      <Head>{say`On the ground`}</Head>
      <p>
        {coordinate ? (
          <>
            {coordinate.latitude}, {coordinate.longitude}: {unbroken(coordinate.words)}.
          </>
        ) : (
          say`no coordinate: ${coordinate_lacks ?? say`not on record`}`
        )}
      </p>
    </div>
  );
}
