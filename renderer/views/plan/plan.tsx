/** Where does it lie on the campus? Footprints, ways and cables to scale, with what is asked about on top. */
import { useMemo } from "react";
import type { PlanAnswer } from "../../../core/campus-plan/answer.ts";
import { KINDS } from "../../../core/model/dictionary.ts";
import { flatAround } from "../../../core/model/flat.ts";
import { wayStyle } from "../../../core/paper/campus.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { useLength } from "../../controls/figures.ts";
import { PrintButton } from "../../controls/print-button.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Sign } from "../../drawing/at.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { PlaceMark, placeShape } from "../../drawing/places.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { type BreakMark, PlanDrawing } from "./drawing.tsx";
import { PlanLedger } from "./ledger.tsx";
import { PlanLeaf } from "./plan-leaf.tsx";
import { askedStroke, Sample, STROKES } from "./strokes.tsx";
import { keyOf, refOf, type Thing, thingsOf } from "./things.ts";
import { told, wayWords } from "./words.ts";
import "./plan.css";

export function Plan({ values }: ViewProps) {
  const of = [values.of, values.beside].filter((one): one is string => Boolean(one));
  const answer = useAnswer("campus.plan", { of });
  const plan = answer.value;
  if (!plan)
    return (
      <Page>
        <Answered answer={answer} asked={of[0] ?? ""} word={say`Drawing the campus`}>
          {() => null}
        </Answered>
      </Page>
    );
  if (!plan.extent_m) return <Page answer={plan.sentence}>{<Nothing />}</Page>;
  return <Shown plan={plan} of={of} values={values} />;
}

function Nothing() {
  return (
    <div className="teach">
      <GhostLine />
      <p>
        {say`A plan needs to know where places are. Read them from a map, as GeoJSON or KML, or type longitude and latitude with each space and building.`}
      </p>
      <p>
        <a className="link" href={addressOf("map")}>
          {say`Read a map`}
        </a>
      </p>
      <p>
        <a className="link" href={addressOf("enter", { kind: "space" })}>
          {say`Enter coordinates of spaces`}
        </a>
      </p>
    </div>
  );
}

function Shown({
  plan,
  of,
  values,
}: {
  readonly plan: PlanAnswer;
  readonly of: readonly string[];
  readonly values: Readonly<Record<string, string>>;
}) {
  const length = useLength();
  const things = useMemo(() => thingsOf(plan), [plan]);
  const asked = useMemo(() => askedKeys(plan), [plan]);
  const selected = things.byKey.get(values.at ?? "") ?? firstOf(plan, things.byKey) ?? null;
  const select = (at: string): void => goWith({ at }, { replace: true });
  const open = (thing: Thing): void => {
    const { kind, id, tag } = refOf(thing);
    go("record", { kind, id: String(id), tag });
  };
  const mark = useMemo(() => markOf(plan, values), [plan, values]);
  const records = [...plan.asked.map(({ record }) => record), ...plan.shared];
  return (
    <Page
      answer={<Tagged text={plan.sentence} records={records} />}
      acts={
        <PrintButton name="campus.print" input={{ of: [...of] }}>
          {say`Print the plan`}
        </PrintButton>
      }
      leaf={<PlanLeaf plan={plan} things={things} selected={selected} />}
    >
      <Region name="drawing" label={say`Plan of the campus`} className="plan-half">
        <PlanDrawing
          plan={plan}
          things={things}
          selected={selected}
          onSelect={select}
          onOpen={open}
          asked={asked}
          mark={mark}
          describe={(thing) => told(thing, length)}
        />
        <Key plan={plan} />
      </Region>
      <Region name="ledger" label={say`The plan as a table`} className="half-ledger plan-ledger">
        <PlanLedger plan={plan} things={things} selected={selected} onSelect={select} onOpen={open} />
      </Region>
    </Page>
  );
}

/** A place or way that is asked about is the one pointed at first. */
function firstOf({ asked }: PlanAnswer, byKey: ReadonlyMap<string, Thing>): Thing | undefined {
  const [first] = asked;
  if (!first) return undefined;
  return byKey.get(keyOf(first.record)) ?? (first.legs[0]?.way ? byKey.get(keyOf(first.legs[0].way)) : undefined);
}

function askedKeys({ asked, places }: PlanAnswer): ReadonlySet<string> {
  const keys = new Set<string>();
  for (const { record, stops, legs } of asked) {
    keys.add(keyOf(record));
    for (const { space } of stops) if (space) keys.add(keyOf(space));
    for (const { way } of legs) if (way) keys.add(keyOf(way));
  }
  // The buildings that its rooms are in.
  for (const { ref, building } of places)
    if (building !== null && keys.has(keyOf(ref))) keys.add(`building-${building}`);
  return keys;
}

/** A spot that another page worked out: `mark=longitude,latitude`, `off` in metres. */
function markOf(
  { middle }: PlanAnswer,
  { mark = "", off = "", said = "" }: Readonly<Record<string, string>>,
): BreakMark | null {
  const [longitude, latitude] = mark.split(",").map(Number);
  if (!middle || mark === "" || longitude === undefined || latitude === undefined) return null;
  if (!Number.isFinite(longitude) || !Number.isFinite(latitude) || Math.abs(latitude) > 90) return null;
  const off_m = Number(off);
  return {
    at: flatAround(middle).spot([longitude, latitude]),
    off_m: off !== "" && Number.isFinite(off_m) && off_m > 0 ? off_m : null,
    words: said || say`break`,
  };
}

const SPACES: Readonly<Record<string, string>> = KINDS.space.fields.kind.values;

/** How lines and marks are drawn, in words. */
function Key({ plan }: { readonly plan: PlanAnswer }) {
  const lines = new Map<string, Parameters<typeof wayStyle>>();
  for (const way of plan.ways)
    if (way.shape)
      lines.set(way.shape === "straight" ? say`straight: no line on record` : wayWords(way), [way.kind, way.shape]);
  const marks = new Map<string, string>();
  for (const { ref, kind, at, building } of plan.places)
    if (ref.kind === "space" && at && building === null) {
      const shape = placeShape(kind, false);
      marks.set(shape, SPACES[shape] ?? say`place of a kind not given`);
    }
  return (
    <ul className="plan-key" aria-label={say`How the plan is drawn`}>
      {plan.asked.map(({ record, legs }, n) =>
        legs.length === 0 ? null : (
          <li key={keyOf(record)}>
            <Sample strokes={askedStroke(n, false)} /> <b className="tag">{record.tag}</b>
          </li>
        ),
      )}
      {[...lines].map(([words, [kind, shape]]) => (
        <li key={words}>
          <Sample strokes={STROKES[wayStyle(kind, shape)]} /> {words}
        </li>
      ))}
      {[...marks].map(([shape, words]) => (
        <li key={shape}>
          <Sign size={18}>
            <PlaceMark shape={shape} />
          </Sign>{" "}
          {words}
        </li>
      ))}
    </ul>
  );
}
