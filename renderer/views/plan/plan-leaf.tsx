/** The place or way pointed at: where it lies, how well that is known, what meets there, and what can be asked of it. */
import type { PlanAnswer, PlanPlace, PlanWay } from "../../../core/campus-plan/answer.ts";
import { flatAround } from "../../../core/model/flat.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { AttachedSmall } from "../../controls/attached.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { decimal, useLength } from "../../controls/figures.ts";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { addressOf } from "../../frame/router.ts";
import { drawnLength, keyOf, refOf, type Thing, type Things } from "./things.ts";
import { placeWords, shapeWords, wayWords, whereWords } from "./words.ts";

export const NO_LOCATE = say`A plan does not replace locating: before anyone digs, have every utility marked as the local code says. The marks on the ground decide.`;

export interface PlanLeafProps {
  readonly plan: PlanAnswer;
  readonly things: Things;
  readonly selected: Thing | null;
}

export function PlanLeaf({ plan, things, selected }: PlanLeafProps) {
  const { asked, shared, unplaced } = plan;
  return (
    <>
      {selected?.place ? <OnePlace plan={plan} things={things} place={selected.place} /> : null}
      {selected?.way ? <OneWay way={selected.way} things={things} /> : null}
      {selected ? <AttachedSmall record={refOf(selected)} /> : null}
      {shared.length > 0 ? (
        <LeafPart title={say`In all of what is asked about`}>
          <p className="plan-tags">
            {shared.map((record) => (
              <TagLink key={keyOf(record)} record={record} />
            ))}
          </p>
        </LeafPart>
      ) : null}
      {asked.length === 0 && unplaced.length > 0 ? (
        <LeafPart title={say`Not on the plan`}>
          <p className="plan-tags">
            {unplaced.slice(0, 40).map((record) => (
              <TagLink key={keyOf(record)} record={record} />
            ))}
            {unplaced.length > 40 ? (
              <span className="soft">{say`and ${unplaced.length - 40} more, first in the table`}</span>
            ) : null}
          </p>
        </LeafPart>
      ) : null}
      <LeafPart>
        <Cautions cautions={[NO_LOCATE]} />
      </LeafPart>
    </>
  );
}

function OnePlace({
  plan,
  things,
  place,
}: {
  readonly plan: PlanAnswer;
  readonly things: Things;
  readonly place: PlanPlace;
}) {
  const length = useLength();
  const { ref, at, from } = place;
  const [longitude, latitude] = plan.middle && at ? flatAround(plan.middle).position(at) : [null, null];
  const rooms = ref.kind === "building" ? (things.spacesIn.get(ref.id) ?? []) : [];
  const ways = [ref.kind === "space" ? ref.id : null, ...rooms.map((room) => room.ref.id)].flatMap((id) =>
    id === null ? [] : (things.waysAt.get(id) ?? []),
  );
  return (
    <>
      <LeafHead tag={<TagLink record={ref} strong />}>{placeWords(place)}</LeafHead>
      <Facts>
        <Fact name={say`Place`}>{whereWords(place, length)}</Fact>
        {longitude !== null && latitude !== null && from === "own" ? (
          <Fact name={say`Latitude, longitude`}>
            {decimal(latitude, 6)}, {decimal(longitude, 6)}
          </Fact>
        ) : null}
      </Facts>
      {ways.length > 0 ? (
        <LeafPart title={say`Ways that meet here`}>
          <ul className="plan-list">
            {[...new Set(ways)].map((way) => (
              <li key={way.ref.id}>
                <TagLink record={way.ref} /> <span className="soft">{wayWords(way)}</span>
              </li>
            ))}
          </ul>
        </LeafPart>
      ) : null}
      {rooms.length > 0 ? (
        <LeafPart title={say`Rooms in it`}>
          <p className="plan-tags">
            {rooms.map((room) => (
              <TagLink key={room.ref.id} record={room.ref} />
            ))}
          </p>
        </LeafPart>
      ) : null}
      <p className="plan-goes">
        <a className="link" href={addressOf("impact", { of: ref.tag })}>
          {say`What breaks with it?`}
        </a>
        {ref.kind === "building" ? (
          <a className="link" href={addressOf("ways", { of: ref.tag })}>
            {say`How many separate ways in?`}
          </a>
        ) : null}
      </p>
    </>
  );
}

function OneWay({ way, things }: { readonly way: PlanWay; readonly things: Things }) {
  const length = useLength();
  const cables = useAnswer("pathway.show", way.cables > 0 ? { what: way.ref.id } : null).value;
  const { ref, points, ends, length_m } = way;
  const drawn = points ? drawnLength(points) : null;
  const lying = new Map(
    [...(cables?.pipes ?? []).flatMap(({ occupants }) => occupants), ...(cables?.loose ?? [])].map((one) => [
      one.cable.id,
      one.cable,
    ]),
  );
  return (
    <>
      <LeafHead tag={<TagLink record={ref} strong />}>{wayWords(way)}</LeafHead>
      <Facts>
        {ends.map((end, i) => {
          const place = end === null ? undefined : things.byKey.get(`space-${end}`)?.place;
          return (
            <Fact key={i === 0 ? "from" : "to"} name={i === 0 ? say`From` : say`To`}>
              {place ? <TagLink record={place.ref} /> : say`not given`}
            </Fact>
          );
        })}
        <Fact name={say`Length`}>{length_m === null ? say`not given` : length(length_m)}</Fact>
        <Fact name={say`As drawn`}>{drawn === null ? null : drawnWords(drawn, length_m, length)}</Fact>
        <Fact name={say`Line`}>{shapeWords(way, length)}</Fact>
      </Facts>
      <LeafPart title={say`In it`}>
        {way.cables === 0 ? (
          <p className="soft">{say`No cable is on record.`}</p>
        ) : (
          <ul className="plan-list">
            {[...lying.values()].map((cable) => (
              <li key={cable.id}>
                <TagLink record={cable} href={addressOf("plan", { of: cable.tag })} />
              </li>
            ))}
          </ul>
        )}
      </LeafPart>
      <p className="plan-goes">
        <a className="link" href={addressOf("pathway", { of: ref.tag })}>
          {say`What lies in it?`}
        </a>
        <a className="link" href={addressOf("mend", { of: ref.tag })}>
          {say`It is cut: how is it mended?`}
        </a>
      </p>
    </>
  );
}

/** Straight from place to place is shorter than the way, and a line is drawn without its ups and downs. */
function drawnWords(drawn: number, recorded: number | null, length: (m: number) => string): string {
  if (recorded === null || recorded <= 0) return length(drawn);
  const share = Math.round((100 * (drawn - recorded)) / recorded);
  return `${length(drawn)}${share === 0 ? "" : `, ${Math.abs(share)} % ${share < 0 ? "less" : "more"}`}`;
}
