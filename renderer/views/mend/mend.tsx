/** How is a cut cable mended? Every way, the least first, with what it draws on and what nobody has proven. */
import { useRef } from "react";
import { choiceWords } from "../../../core/model/wording.ts";
import type { MendTheirs, MendWhole, MendWholePlan } from "../../../core/repair/answer.ts";
import { cautionsOf } from "../../../core/repair/cautions.ts";
import { NO_WAY } from "../../../core/repair/ways.ts";
import { counted, plural } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { CircuitsByPriority } from "../../controls/circuits-by-priority.tsx";
import { count, decimal, useLength } from "../../controls/figures.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { unbroken } from "../../controls/unbroken.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { readNumber } from "../../grid/reading-numbers.ts";
import type { ViewProps } from "../view.ts";
import { MOST_BESIDE, PlansBeside } from "./beside.tsx";
import { jobAddress } from "./job-address.ts";
import { PlanLaid } from "./laid.tsx";
import { LineDrawing } from "./line-drawing.tsx";
import { LookFirst } from "./look-first.tsx";
import { LostCase } from "./lost-case.tsx";
import { LostSlider } from "./lost-slider.tsx";
import { Narrowed } from "./narrowed.tsx";
import { NotOurs } from "./not-ours.tsx";
import { MendLeaf, PlanDetail, PlanMore } from "./plan-leaf.tsx";
import { Several } from "./several.tsx";
import { TemporaryLeft } from "./temporary-left.tsx";
import { WhereCut } from "./where-cut.tsx";
import { WhichLeg } from "./which-leg.tsx";
import "./mend.css";

function number(text: string | undefined): number | null | undefined {
  if (!text?.trim()) return null;
  const read = readNumber(text, "none", "m");
  return typeof read === "number" ? read : undefined;
}

/** "2" on each side, or "1.5; 4" towards the first stop and towards the last. */
function lostOf(text: string | undefined): readonly (number | null | undefined)[] {
  const [left, right] = (text ?? "").split(";");
  return [number(left), right === undefined ? number(left) : number(right)];
}

/** One cable, or all that lies in a way or between two places: what was named decides. */
export function Mend({ values }: ViewProps) {
  const { of = "" } = values;
  const named = useAnswer(
    "address.resolve",
    of ? { text: of, kinds: ["cable", "pathway", "conduit", "closure"] } : null,
    {
      kinds: [],
    },
  );
  const kinds = new Set(named.value?.matches.map(({ kind }) => kind));
  if (of && !named.value && !named.error) return <Page />;
  // Whoever stands between two holes knows neither the duct's name nor a cable's.
  const between = !of && values.after && values.until ? ([values.after, values.until] as const) : null;
  if (between === null && (kinds.has("cable") || kinds.size === 0)) return <OneCable values={values} />;
  const [metres, [left, right]] = [number(values.metres), lostOf(values.lost)];
  if (metres === undefined || left === undefined || right === undefined) return <Page answer={NUMBERS} />;
  if (kinds.has("closure")) return <LostCase of={of} lost_m={left} />;
  return <Several of={between ?? of} metres={metres} left_m={left} right_m={right} at={values.at} />;
}

const NUMBERS = say`Mark and metres must be numbers, such as 8300 and 2.`;

function OneCable({ values }: ViewProps) {
  const { of = "", after, until } = values;
  const metres = number(values.metres);
  const mark = number(values.mark);
  const [left, right] = lostOf(values.lost);
  const readable = mark !== undefined && metres !== undefined && left !== undefined && right !== undefined;
  const placed = mark != null || Boolean(after);
  const answer = useAnswer(
    "mend.plans",
    of && readable && placed
      ? {
          cable: of,
          ...(mark == null ? {} : { mark }),
          ...(after ? (until ? { between: [after, until] as [string, string] } : { after }) : {}),
          ...(after && mark == null && metres != null ? { metres } : {}),
          ...(values.dark ? { dark: values.dark } : {}),
          ...(left == null ? {} : { lost_left_m: left }),
          ...(right == null ? {} : { lost_right_m: right }),
        }
      : null,
  );
  // While the slider moves the plans stay where they are until the new ones are whole.
  const kept = useRef<{ readonly of: string; readonly value: MendWhole } | null>(null);
  if (answer.value) kept.current = { of, value: answer.value };
  if (!readable) return <Page answer={NUMBERS} />;
  if (!of || !placed)
    return (
      <Page
        answer={say`Name the cable and where it is cut, by the mark on the sheath or the place before the cut; or the pathway or pipe that is cut; or only the two places between which everything is cut.`}
        leaf={<Cautions cautions={cautionsOf([NO_WAY])} />}
      >
        <TemporaryLeft of={of} />
        <WhereCut of={of} />
      </Page>
    );
  const shown = answer.value ?? (answer.error || kept.current?.of !== of ? undefined : kept.current.value);
  return shown ? (
    <Page {...told(shown, values, answer.value === undefined)} />
  ) : (
    <Page>
      <TemporaryLeft of={of} />
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

interface Numbered extends MendWholePlan {
  readonly number: number;
}

const Metres = ({ of }: { readonly of: number }) => {
  const length = useLength();
  return of === 0 ? <span className="faint">{say`none`}</span> : length(of);
};

const COLUMNS: readonly WalkedColumn<Numbered>[] = [
  { key: "number", head: say`way`, className: "figure", show: ({ number }) => number },
  {
    key: "what",
    head: say`what is done`,
    show: ({ number, sentence, to_prove, bare, crowded, severs, takes_down }) => (
      <>
        {unbroken(sentence)}
        {bare === null ? null : <span className="mend-under">{unbroken(bare)}</span>}
        {severs ? (
          <span className="mend-under">
            {sayWith`${<FindingMark shape="warning" />} severs what shines; takes down ${takes_down.length === 0 ? say`no circuit on record` : takes_down.map(({ circuit }) => circuit.tag).join(", ")}`}
          </span>
        ) : takes_down.length > 0 ? (
          <span className="mend-under">
            {sayWith`${<FindingMark shape="warning" />} takes down what the cut left alone: ${takes_down.map(({ circuit }) => circuit.tag).join(", ")}`}
          </span>
        ) : null}
        {crowded.length > 0 ? (
          <span className="mend-under">
            {sayWith`${<FindingMark shape="warning" />} no room as things lie: ${unbroken(crowded.join("; "))}`}
          </span>
        ) : null}
        {to_prove.length > 0 ? (
          <span className="mend-under">
            {number > MOST_BESIDE
              ? sayWith`${<FindingMark shape="gap" />} to prove: ${unbroken(to_prove.join("; "))}`
              : sayWith`${<FindingMark shape="gap" />} ${plural(to_prove.length, "{0} thing to be proved first", "{0} things to be proved first")}`}
          </span>
        ) : null}
      </>
    ),
  },
  { key: "pulled", head: say`from coils`, className: "figure", show: ({ pulled_m }) => <Metres of={pulled_m} /> },
  { key: "cable", head: say`new cable`, className: "figure", show: ({ new_cable_m }) => <Metres of={new_cable_m} /> },
  { key: "joints", head: say`splices a strand`, className: "figure", show: ({ joints }) => count(joints) },
  {
    key: "hours",
    head: say`hours`,
    className: "figure",
    show: ({ hours }) => (hours.hours === null ? "" : decimal(hours.hours)),
  },
];

/** A cable that others mend: whom to call, and what is down; no ways. */
function notOurs(answer: MendWhole, theirs: MendTheirs): PageProps {
  const [a, b] = answer.cut.between;
  return {
    answer: <Tagged text={answer.sentence} records={[answer.cable, theirs.party, a, b]} />,
    acts: (
      <>
        <a className="button" href={addressOf("impact", { of: answer.cable.tag })}>
          {say`What is down?`}
        </a>
        <a className="button" href={addressOf("plan", { of: answer.cable.tag })}>
          {say`On the plan`}
        </a>
      </>
    ),
    leaf: <Cautions cautions={answer.cautions} />,
    children: (
      <>
        <Region name="drawing" label={say`The cut`} className="mend-drawing">
          <Where answer={answer} />
        </Region>
        <Region name="ledger" label={say`Whom to call`} className="mend-ledger">
          <NotOurs label={say`Not ours to mend: call first`} of={[{ cable: answer.cable, owner: theirs }]} />
          <LineDrawing
            tag={answer.cable.tag}
            line={answer.line}
            unit={answer.cut.mark_unit}
            somewhere={answer.cut.stretch_m !== null}
            plan={null}
          />
        </Region>
      </>
    ),
  };
}

/** @param planning what is told was asked before, and the answer to what is asked now is on its way */
function told(answer: MendWhole, values: Readonly<Record<string, string>>, planning: boolean): PageProps {
  const plans = answer.plans.map((plan, index): Numbered => ({ ...plan, number: index + 1 }));
  const selected = plans.find((plan) => String(plan.number) === values.at) ?? plans[0] ?? null;
  const [a, b] = answer.cut.between;
  if (answer.theirs) return notOurs(answer, answer.theirs);
  return {
    answer: <Tagged text={answer.sentence} records={[answer.cable, a, b]} />,
    acts: (
      <>
        <a className="button" href={addressOf("impact", { of: answer.cable.tag })}>
          {say`What is down?`}
        </a>
        <a className="button" href={addressOf("plan", { of: answer.cable.tag })}>
          {say`On the plan`}
        </a>
        {selected && answer.cut.passes.length === 0 ? (
          <a className="button" href={jobAddress(answer, selected.number, values.dark)}>
            {say`Choose way ${selected.number}`}
          </a>
        ) : null}
      </>
    ),
    leaf: <MendLeaf answer={answer} />,
    children: (
      <>
        <Region name="drawing" label={say`The cut`} className="mend-drawing">
          <Where answer={answer} />
          {answer.cut.stretch_m === null ? (
            <LostSlider lost_m={Math.max(answer.cut.lost_left_m, answer.cut.lost_right_m)} planning={planning} />
          ) : null}
          <WhichLeg answer={answer} />
          {answer.doubts.map((words) => (
            <p key={words} className="mend-where">
              {sayWith`${<FindingMark shape="warning" />} ${unbroken(words)}`}
            </p>
          ))}
          {answer.shining
            ? [answer.shining.words, ...answer.shining.beside].map((words) => (
                <p key={words} className="mend-where">
                  {unbroken(words)}
                </p>
              ))
            : null}
        </Region>
        <Region name="ledger" label={say`Ways to mend it`} className="mend-ledger">
          <TemporaryLeft of={answer.cable.id} />
          <LineDrawing
            tag={answer.cable.tag}
            line={answer.line}
            unit={answer.cut.mark_unit}
            somewhere={answer.cut.stretch_m !== null}
            plan={selected}
          />
          <LookFirst answer={answer} />
          <Walked
            label={say`Ways to mend ${answer.cable.tag}`}
            columns={COLUMNS}
            rows={plans}
            keyOf={(plan) => String(plan.number)}
            selected={selected ? String(selected.number) : null}
            onSelect={(at) => goWith({ at }, { replace: true })}
            className="mend-plans"
          />
          {answer.ranked === null || answer.ranked.look_first.length > 0 ? null : (
            <p className="mend-where">{unbroken(answer.ranked.words)}</p>
          )}
          <Narrowed answer={answer} />
          <PlansBeside answer={answer} dark={values.dark} />
          {selected ? <PlanDetail plan={selected} /> : null}
          {selected ? <PlanLaid plan={selected} cable={answer.cable} /> : null}
          {selected ? <PlanMore answer={answer} plan={selected} /> : null}
          {answer.refused.length > 0 ? (
            <section className="locate-part" aria-labelledby="mend-refused">
              <h2 id="mend-refused">
                {plans[0]?.loops.length ? say`Where no dark strand is taken out` : say`Where no single splice mends it`}
              </h2>
              <ul>
                {answer.refused.map(({ place, words, reason }) => (
                  <li key={words}>
                    {place ? <TagLink record={place} /> : unbroken(words)}: {unbroken(reason)}
                  </li>
                ))}
              </ul>
            </section>
          ) : null}
          {answer.stuck.length > 0 ? (
            <section className="locate-part" aria-labelledby="mend-stuck">
              <h2 id="mend-stuck">{say`Where it can't be pulled`}</h2>
              <ul>
                {answer.stuck.map((words) => (
                  <li key={words}>{unbroken(words)}</li>
                ))}
              </ul>
            </section>
          ) : null}
          {answer.assumed.length > 0 ? (
            <section className="locate-part" aria-labelledby="mend-assumed">
              <h2 id="mend-assumed">{say`Taken for granted`}</h2>
              <ul>
                {answer.assumed.map((words) => (
                  <li key={words}>{unbroken(words)}</li>
                ))}
              </ul>
            </section>
          ) : null}
        </Region>
      </>
    ),
  };
}

function Where({
  answer: { theirs, cut, strands, circuits, not_in_service, shining },
}: {
  readonly answer: MendWhole;
}) {
  const length = useLength();
  const [a, b] = cut.between;
  return (
    <dl className="facts mend-where">
      {cut.inside ? (
        <div>
          <dt>{say`Inside`}</dt>
          <dd>{sayWith`${<TagLink record={cut.inside} />}: what is coiled there is taken as lost`}</dd>
        </div>
      ) : (
        <div>
          <dt>{say`Between`}</dt>
          <dd>
            {sayWith`${a ? <TagLink record={a} /> : say`a place not known`} and ${b ? <TagLink record={b} /> : say`a place not known`}`}
            , {cut.from_mouth_m === null ? say`nobody knows where` : say`${length(cut.from_mouth_m)} from the first`}
          </dd>
        </div>
      )}
      {cut.stretch_m === null ? (
        <>
          <div>
            <dt>{say`Mark`}</dt>
            <dd>{cut.mark === null ? say`none on record` : `${cut.mark} ${cut.mark_unit ?? ""}`}</dd>
          </div>
          <div>
            <dt>{shining ? say`Taken as strained` : say`Lost`}</dt>
            <dd>{say`${length(cut.lost_left_m)} and ${length(cut.lost_right_m)}`}</dd>
          </div>
        </>
      ) : (
        <div>
          <dt>{theirs ? say`Somewhere on` : say`Given up`}</dt>
          <dd>
            {theirs ? say`the ${length(cut.stretch_m)} between them` : say`all ${length(cut.stretch_m)} between them`}
          </dd>
        </div>
      )}
      <div>
        <dt>{say`Down`}</dt>
        <dd>
          {counted(strands, "strand", "strands")}, {counted(circuits.length, "circuit", "circuits")}
          {circuits.length > 0 ? ": " : ""}
          <CircuitsByPriority of={circuits} most={8} />
        </dd>
      </div>
      {not_in_service.length > 0 ? (
        <div>
          <dt>{say`Not in service`}</dt>
          <dd>
            {not_in_service.slice(0, 8).map(({ circuit, state }, index) => (
              <span key={circuit.id}>
                {index > 0 ? ", " : ""}
                <span className="whole-words">
                  <TagLink record={circuit} /> ({choiceWords("circuit", "state", state ?? "in_service")})
                </span>
              </span>
            ))}
            {not_in_service.length > 8 ? say` and ${count(not_in_service.length - 8)} more` : ""}
          </dd>
        </div>
      ) : null}
    </dl>
  );
}
