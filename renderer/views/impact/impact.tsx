/** What breaks with some places, ways, cables or a stretch of a cable? */
import { useMemo } from "react";
import type { ImpactAnswer, ImpactCircuit } from "../../../core/impact/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { readMany } from "../../controls/many.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { GhostLine } from "../../drawing/ghosts.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, goWith } from "../../frame/router.ts";
import type { ViewProps } from "../view.ts";
import { Buildings } from "./buildings.tsx";
import { Cables } from "./cables.tsx";
import { Circuits } from "./circuits.tsx";
import { ImpactLeaf } from "./impact-leaf.tsx";
import "./impact.css";

export function Impact({ values }: ViewProps) {
  const of = values.of ?? "";
  const what = useMemo(() => readMany(of), [of]);
  const answer = useAnswer("impact.of", what.length > 0 ? { what: [...what] } : null);
  // One page whatever it shows, so that the blank that was filled keeps the focus.
  if (what.length === 0) {
    return (
      <Page answer={say`Fill the blank with what is lost, such as a hole or a duct bank. More than one can be named.`}>
        <div className="teach">
          <GhostLine />
          <p>
            {sayWith`The circuits that stop, the most urgent first; the buildings that go dark, and what stays lit in the others; and circuits declared diverse that stop together. A stretch of a cable is written with its marks: ${<span className="tag">F-012 1200..1450</span>}.`}
          </p>
        </div>
      </Page>
    );
  }
  const told = answer.value;
  const selected = told?.circuits.find(({ circuit }) => String(circuit.id) === values.at) ?? told?.circuits[0] ?? null;
  return (
    <Page
      answer={told ? <Told answer={told} /> : undefined}
      leaf={<ImpactLeaf of={of} answer={told} circuit={selected} />}
    >
      {told ? (
        <Shown answer={told} selected={selected} />
      ) : (
        <Answered answer={answer} asked={what.length === 1 ? of : ""} word={say`Following the glass`}>
          {() => null}
        </Answered>
      )}
    </Page>
  );
}

function Shown({ answer, selected }: { readonly answer: ImpactAnswer; readonly selected: ImpactCircuit | null }) {
  return (
    <>
      {answer.buildings.length > 0 ? (
        <Region name="drawing" label={say`Buildings`} className="half-drawing">
          <Buildings buildings={answer.buildings} />
        </Region>
      ) : null}
      <Region name="ledger" label={say`What is lost`} className="half-ledger impact-ledger">
        {answer.circuits.length > 0 ? (
          <Circuits
            circuits={answer.circuits}
            selected={selected}
            onSelect={(at) => goWith({ at }, { replace: true })}
            onOpen={({ circuit }) => go("find", { of: circuit.tag })}
          />
        ) : (
          <p className="impact-none">{say`No circuit on record is hit.`}</p>
        )}
        {answer.cables.length > 0 ? <Cables cables={answer.cables} /> : null}
      </Region>
    </>
  );
}

function Told({ answer }: { readonly answer: ImpactAnswer }) {
  const records = [
    ...answer.lost.map(({ record }) => record),
    ...answer.buildings.map(({ building }) => building),
    ...answer.cables.map(({ cable }) => cable),
  ];
  return (
    <>
      <Tagged text={answer.sentence} records={records} />{" "}
      {answer.lost.length === 1 && answer.lost[0]?.record.kind === "building" ? (
        <a className="link" href={addressOf("ways", { of: answer.lost[0].record.tag })}>
          {say`What cuts it off?`}
        </a>
      ) : null}
    </>
  );
}
