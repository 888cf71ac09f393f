/** Which strands can a cable give on its way? The case drawn, every set of units, and the one pointed at whole. */
import type { BreakoutAnswer, BreakoutPlan } from "../../../core/breakout/answer.ts";
import type { Failure } from "../../../core/result.ts";
import { BREAKOUT_ACTS, cautionsSaid } from "../../../core/standards/cautions.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { count } from "../../controls/figures.ts";
import { Refused } from "../../controls/refused.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import { Sentence } from "../../controls/sentence.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { useCurrentView } from "../../frame/current-view.ts";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { readNumber } from "../../grid/reading-numbers.ts";
import { isBlank, type Part, type ViewProps } from "../view.ts";
import { BreakoutLeaf } from "./breakout-leaf.tsx";
import { FitTold } from "./fit-told.tsx";
import { LoopDrawing } from "./loop-drawing.tsx";
import { PlacesRanked } from "./places-ranked.tsx";
import { SetDetail } from "./set-detail.tsx";
import { WhereOpened } from "./where-opened.tsx";
import "./breakout.css";

type Side = "a" | "z" | "both";
type Cut = "edge" | "middle";

function number(text: string | undefined, otherwise: number | null): number | null | undefined {
  if (!text?.trim()) return otherwise;
  const read = readNumber(text, "none", "m");
  return typeof read === "number" ? read : undefined;
}

export function Breakout({ values }: ViewProps) {
  const { of = "", place = "", side = "a", to, type, cut } = values;
  const strands = number(values.strands, 4);
  const length_m = number(values.long, null);
  const readable = typeof strands === "number" && Number.isInteger(strands) && length_m !== undefined;
  const answer = useAnswer(
    "breakout.plans",
    of && place && readable
      ? {
          cable: of,
          at: place,
          strands,
          side: side as Side,
          ...(to ? { to } : {}),
          ...(type ? { type } : {}),
          ...(length_m === null ? {} : { length_m }),
          ...(values.panel ? { panel: values.panel } : {}),
          ...(values.case ? { closure: values.case } : {}),
          ...(cut ? { cut: cut as Cut } : {}),
        }
      : null,
  );
  const { view } = useCurrentView();
  const rooms = roomsOf(answer.error);
  if (!readable)
    return <Page answer={say`Strands must be a whole number, and the lateral's way metres, such as 4 and 120.`} />;
  if (!of || !place)
    return (
      <Page
        answer={
          of
            ? say`Choose the place on the way of ${of} where it is opened.`
            : say`Name the cable, and the place on its way where it is opened.`
        }
        leaf={<Cautions cautions={cautionsSaid(BREAKOUT_ACTS)} />}
      >
        {of ? (
          <PlacesRanked
            values={values}
            asked={{
              cable: of,
              strands,
              side: side as Side,
              ...(to ? { to } : {}),
              ...(type ? { type } : {}),
              ...(length_m === null ? {} : { length_m }),
            }}
          />
        ) : (
          <WhereOpened of={of} place={place} path="breakout" />
        )}
      </Page>
    );
  if (answer.error && rooms)
    return (
      <Page>
        <Rooms of={answer.error} rooms={rooms} values={values} />
      </Page>
    );
  return answer.value ? (
    <Page
      sentence={<Sentence parts={withEnds(view.question, answer.value)} values={values} />}
      {...told(answer.value, values)}
    />
  ) : (
    <Page>
      <Answered
        answer={answer}
        word={say`Planning`}
        {...(answer.error?.code === "not_found" ? { asked: answer.error.problems[0]?.record ?? of } : {})}
      >
        {() => null}
      </Answered>
    </Page>
  );
}

/** The rooms of a building in one of which the lateral ends, each as the same question with it. */
function Rooms({
  of: failure,
  rooms,
  values,
}: {
  readonly of: Failure;
  readonly rooms: readonly string[];
  readonly values: Readonly<Record<string, string>>;
}) {
  return (
    <>
      <Refused failure={{ ...failure, problems: [] }} />
      <ul className="teach-ways breakout-rooms">
        {rooms.map((room) => (
          <li key={room}>
            <a className="link" href={addressOf("breakout", { ...values, to: room })}>
              {unbroken(say`in ${room}`)}
            </a>
          </li>
        ))}
      </ul>
    </>
  );
}

/** Rooms that a refusal asks to choose among; null where it asks nothing of the kind. */
function roomsOf(failure: Failure | undefined): readonly string[] | null {
  const { rooms } = (failure?.details ?? {}) as { readonly rooms?: readonly string[] };
  return rooms ?? null;
}

/** The question with the places of this cable's ends. */
function withEnds(question: readonly Part[], { ends }: BreakoutAnswer): readonly Part[] {
  const words = [ends.a?.tag, ends.z?.tag];
  return question.map((part) =>
    isBlank(part) && part.fill === "choice" && part.name === "side"
      ? { ...part, choices: part.choices.map((choice, index) => ({ ...choice, words: words[index] ?? choice.words })) }
      : part,
  );
}

interface Numbered extends BreakoutPlan {
  readonly number: number;
}

const COLUMNS: readonly WalkedColumn<Numbered>[] = [
  { key: "number", head: say`set`, className: "figure", show: ({ number: own }) => own },
  { key: "strands", head: say`strands`, show: ({ strands }) => <span className="tag">{strands}</span> },
  {
    key: "units",
    head: say`units opened`,
    show: ({ units }) =>
      units.map((unit) => (
        <span key={unit.words} className="breakout-unit">
          <Swatch colours={unit.layers} /> {unit.words}
        </span>
      )),
  },
  {
    key: "risk",
    head: say`circuits at risk`,
    show: ({ at_risk }) => <AtRisk of={at_risk} />,
  },
  {
    key: "kept",
    head: say`kept for repair`,
    className: "figure",
    show: ({ kept_for_repair }) =>
      kept_for_repair === 0 ? <span className="faint">{say`none`}</span> : kept_for_repair,
  },
  { key: "case", head: say`spliced in`, show: ({ case: held }) => <CaseWords of={held} /> },
];

/** A circuit may run in two of the units: it is one all the same. */
function AtRisk({ of }: { readonly of: BreakoutPlan["at_risk"] }) {
  const circuits = [...new Map(of.map(({ circuit }) => [circuit.id, circuit])).values()];
  if (circuits.length === 0) return <span className="faint">{say`none`}</span>;
  return (
    <>
      <FindingMark shape="caution" /> {count(circuits.length)}:{" "}
      {circuits.slice(0, 3).map((circuit, index) => (
        <span key={circuit.id}>
          {index > 0 ? ", " : ""}
          <TagLink record={circuit} />
        </span>
      ))}
      {circuits.length > 3 ? say` and ${circuits.length - 3} more` : ""}
    </>
  );
}

const CaseWords = ({ of: { how, record, tag } }: { readonly of: BreakoutPlan["case"] }) => (
  <>
    {record && how === "here" ? <TagLink record={record} /> : <span className="tag">{tag}</span>}
    {how === "new" ? say`, new` : how === "stock" ? say`, from stock` : ""}
  </>
);

/** The act that makes a job of a set, with what was asked filled in. */
function jobOf(
  { cable, stop, strands, side, lateral }: BreakoutAnswer,
  set: number,
  { place = stop.tag, type, long, cut, panel, case: closure }: Readonly<Record<string, string>>,
): Record<string, string> {
  return {
    ...{ do: "job.plan_breakout", cable: cable.tag, at: place, strands: String(strands), side, set: String(set) },
    ...(lateral.to ? { to: lateral.to.tag } : {}),
    ...(type ? { type } : {}),
    ...(long ? { length_m: long } : {}),
    ...(panel ? { panel } : {}),
    ...(cut ? { cut } : {}),
    ...(closure ? { closure } : {}),
  };
}

function told(answer: BreakoutAnswer, values: Readonly<Record<string, string>>): PageProps {
  const plans = answer.plans.map((plan, index): Numbered => ({ ...plan, number: index + 1 }));
  const selected = plans.find((plan) => String(plan.number) === values.set) ?? plans[0] ?? null;
  const { cable, place, ends, loop } = answer;
  return {
    answer: <Tagged text={answer.sentence} records={[cable, place, ends.a, ends.z]} />,
    acts: (
      <>
        {loop.reaches === "opened" ? (
          <a className="button" href={addressOf("breakout-close", { of: cable.tag, place: answer.stop.tag })}>
            {say`Join again`}
          </a>
        ) : null}
        <a className="button" href={addressOf("breakout", { ...values, place: "", set: "" })}>
          {say`Compare places`}
        </a>
        {selected ? (
          <a className="button" href={addressOf("acts", jobOf(answer, selected.number, values))}>
            {say`As a job`}
          </a>
        ) : null}
      </>
    ),
    leaf: <BreakoutLeaf answer={answer} />,
    children: (
      <>
        <Region name="drawing" label={say`The opening`} className="mend-drawing">
          <LoopDrawing answer={answer} plan={selected} />
          {selected ? <p className="mend-where">{sayWith`Fits: ${<FitTold of={selected.fit} />}`}</p> : null}
        </Region>
        <Region name="ledger" label={say`Sets of strands`} className="mend-ledger">
          <Walked
            label={say`Sets of strands of ${cable.tag}`}
            columns={COLUMNS}
            rows={plans}
            keyOf={(plan) => String(plan.number)}
            selected={selected ? String(selected.number) : null}
            onSelect={(set) => goWith({ set }, { replace: true })}
            className="breakout-sets"
          />
          {selected ? <SetDetail plan={selected} answer={answer} number={selected.number} /> : null}
        </Region>
      </>
    ),
  };
}
