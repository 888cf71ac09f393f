/** "If places and ways were read from a map, what would change?": GeoJSON or KML, feature by feature; exactly that is written. */
import { useState } from "react";
import type { InputOf } from "../../../core/operations/list.ts";
import type { MapRehearsal } from "../../../core/operations/subjects/maps.ts";
import type { Failure } from "../../../core/result.ts";
import { say } from "../../../core/words/say.ts";
import { useClient } from "../../client/context.ts";
import { useAct } from "../../client/use-act.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { Refused } from "../../controls/refused.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf } from "../../frame/router.ts";
import { useStatus } from "../../frame/use-status.ts";
import { handOver } from "../../grid/table-file.ts";
import { FatesBar } from "../import/fates-bar.tsx";
import { MapChoice, type MapGiven } from "./map-choice.tsx";
import { AS_READ, MapFeatures, type Ways } from "./map-features.tsx";
import "./map.css";
import { counted, plural } from "../../../core/words/counted.ts";

export function MapPage() {
  const [given, setGiven] = useState<MapGiven | null>(null);
  const [leaveOut, setLeaveOut] = useState<readonly number[]>([]);
  const [swapped, setSwapped] = useState(false);
  const [ways, setWays] = useState<Ways>(AS_READ);
  const [tagFrom, setTagFrom] = useState("");
  if (!given)
    return (
      <Page
        answer={say`GeoJSON (RFC 7946), KML or KMZ in WGS 84, matched by tag. Nothing is written before you have seen what each feature would do.`}
      >
        <Region name="ledger" label={say`Source`} className="sheet-empty">
          <MapChoice choose={setGiven} />
          <SaveMap />
        </Region>
      </Page>
    );
  const input = {
    ...given,
    ...{ swapped, leave_out: [...leaveOut], turn: [...ways.turn], as_written: [...ways.asWritten] },
    ...(tagFrom.trim() === "" ? {} : { tag_from: tagFrom.trim() }),
  };
  return (
    <Rehearsed
      input={input}
      leaveOut={leaveOut}
      choose={setLeaveOut}
      tagFrom={tagFrom}
      setTagFrom={setTagFrom}
      setSwapped={(on) => {
        setSwapped(on);
        setWays(AS_READ);
      }}
      ways={ways}
      setWays={setWays}
      another={() => {
        setGiven(null);
        setLeaveOut([]);
        setSwapped(false);
        setWays(AS_READ);
        setTagFrom("");
      }}
    />
  );
}

interface RehearsedProps {
  readonly input: InputOf<"map.rehearse">;
  readonly leaveOut: readonly number[];
  readonly choose: (features: readonly number[]) => void;
  readonly tagFrom: string;
  readonly setTagFrom: (property: string) => void;
  readonly setSwapped: (swapped: boolean) => void;
  readonly ways: Ways;
  readonly setWays: (ways: Ways) => void;
  readonly another: () => void;
}

function Rehearsed({
  input,
  leaveOut,
  choose,
  tagFrom,
  setTagFrom,
  setSwapped,
  ways,
  setWays,
  another,
}: RehearsedProps) {
  const answer = useAnswer("map.rehearse", input);
  const { act, running } = useAct();
  const readOnly = useStatus()?.read_only ?? null;
  const [refused, setRefused] = useState<Failure | null>(null);
  const plan = answer.value;
  const writable = plan ? plan.totals.new + plan.totals.changed : 0;
  const write = async (only: boolean): Promise<void> => {
    if (!plan) return;
    setRefused(null);
    const reply = await act("map.import", { ...input, digest: plan.digest, ...(only ? { valid_only: true } : {}) });
    if (!reply) return;
    if (!reply.ok) setRefused(reply.error);
    else
      notify(say`${counted(writable, "place or way", "places and ways")} taken over. One undo takes all of it back.`);
  };
  return (
    <Page
      acts={
        <>
          <Button onClick={another}>{say`Another map`}</Button>
          {plan && plan.totals.refused > 0 && writable > 0 ? (
            <Button disabled={readOnly !== null} onClick={() => void write(true)}>
              {say`Take over the ${count(writable)} that can be read`}
            </Button>
          ) : null}
          <Button
            filled
            disabled={readOnly !== null || !plan || writable === 0 || plan.totals.refused > 0}
            busy={running > 0 ? say`Writing` : null}
            onClick={() => void write(false)}
          >
            {writable === 0 ? say`Nothing to take over` : say`Take over ${counted(writable, "feature", "features")}`}
          </Button>
        </>
      }
      answer={
        readOnly ??
        (plan ? sayWith`${plan.name}, ${plan.form}: ${<b>{plan.sentence}</b>} Nothing is written yet.` : undefined)
      }
    >
      <Region name="ledger" label={say`What would become of the features`} className="map-plan" reachable>
        {refused ? <Refused failure={refused} again={answer.again} /> : null}
        <div className="map-manner">
          <label>
            <span>{say`property that holds the tag`}</span>
            <input
              className="form-input"
              value={tagFrom}
              placeholder={say`tag, else its name or id`}
              onChange={({ target }) => setTagFrom(target.value)}
            />
          </label>
          <label className="map-swapped">
            <input
              type="checkbox"
              checked={input.swapped ?? false}
              onChange={({ target }) => setSwapped(target.checked)}
            />
            <span>{say`latitude stands before longitude in this file`}</span>
          </label>
        </div>
        <Answered answer={answer} word={say`Comparing features`}>
          {(shown) => (
            <>
              <Warned plan={shown} />
              <FatesBar totals={shown.totals} />
              <MapFeatures plan={shown} leaveOut={leaveOut} choose={choose} ways={ways} setWays={setWays} />
              {shown.unknown.length > 0 ? (
                <p className="soft">
                  {say`Left out, no field of the record:`}{" "}
                  {shown.unknown.map(({ property, features }) => `${property} (${count(features)})`).join(", ")}
                </p>
              ) : null}
            </>
          )}
        </Answered>
      </Region>
    </Page>
  );
}

function Warned({ plan }: { readonly plan: MapRehearsal }) {
  if (plan.far === 0) return null;
  return (
    <p className="signed map-warned">
      <FindingMark shape="warning" />
      <span>
        {plan.doubted.length > 0
          ? say`In ${counted(plan.doubted.length, "feature", "features")} longitude and latitude look swapped: they lie far outside the campus, and within it the other way round. They wait: tick above if the whole file has them so, or say it of each below.`
          : plural(plan.far, "{0} feature lies far outside the campus.", "{0} features lie far outside the campus.")}
      </span>
    </p>
  );
}

/** The same the other way: what is read back unchanged changes nothing. */
function SaveMap() {
  const client = useClient();
  const save = async (): Promise<void> => {
    const reply = await client.call("map.export", {});
    if (!reply.ok) return sayRefused(reply.error);
    const { collection, features, without } = reply.value;
    handOver(new Blob([`${JSON.stringify(collection)}\n`], { type: "application/geo+json" }), "campus.geojson");
    notify(
      `${counted(features, "feature", "features")}${without > 0 ? say`, ${count(without)} of them without a place` : ""}.`,
    );
  };
  return (
    <p className="map-save">
      <Button onClick={() => void save()}>{say`Save this plant's places and ways as GeoJSON`}</Button>
      <a className="link" href={addressOf("plan")}>
        {say`See them on the plan`}
      </a>
    </p>
  );
}
