/** Coils that nobody knows and on which a better way hangs: looking there costs less than the cable one would order. */
import type { MendWhole } from "../../../core/repair/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";

export function LookFirst({ answer: { look_first } }: { readonly answer: MendWhole }) {
  const length = useLength();
  if (look_first.length === 0) return null;
  return (
    <section className="locate-part mend-look" aria-labelledby="mend-look">
      <h2 id="mend-look">{say`Look here first`}</h2>
      <ul>
        {look_first.map(({ stop, place, name, coil_m, both_coils_m, way, new_cable_m }) => {
          const not_known =
            both_coils_m === null
              ? say`nobody knows what is coiled there. ${length(coil_m)} would do for`
              : say`nobody knows on which side of its opening the ${length(both_coils_m)} there are coiled. ${length(coil_m)} towards the cut would do for`;
          return (
            <li key={stop.id}>
              <FindingMark shape="gap" />{" "}
              {sayWith`${place ? <TagLink record={place} /> : name}: ${not_known}: ${way}${new_cable_m < 0.05 ? "" : say`, ${length(new_cable_m)} of it`}. Enter what is found at ${<TagLink record={stop} />}, and the ways are reckoned anew.`}
            </li>
          );
        })}
      </ul>
    </section>
  );
}
