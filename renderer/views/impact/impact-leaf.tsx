/** What is taken as lost, what it means for diverse circuits, the circuit pointed at, and what the record leaves open. */
import { type FormEvent, useState } from "react";
import type { ImpactAnswer, ImpactCircuit } from "../../../core/impact/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { Cautions } from "../../controls/cautions.tsx";
import { Lacks } from "../../controls/lacks.tsx";
import { Fact, Facts, LeafHead, LeafPart } from "../../controls/leaf.tsx";
import { exchanged, readMany, without } from "../../controls/many.ts";
import { sayWith } from "../../controls/say-with.tsx";
import { TagLink } from "../../controls/tag-link.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { StateWord } from "../../drawing/states.tsx";
import { addressOf, goWith } from "../../frame/router.ts";
import { HOW, Tags } from "./circuits.tsx";

interface Props {
  readonly of: string;
  /** What was told; nothing while it is asked, or refused. */
  readonly answer: ImpactAnswer | undefined;
  readonly circuit: ImpactCircuit | null;
}

export function ImpactLeaf({ of, answer, circuit }: Props) {
  return (
    <>
      {answer && answer.cautions.length > 0 ? (
        <div className="leaf-cautions">
          <Cautions cautions={answer.cautions} />
        </div>
      ) : null}
      {answer && answer.diverse.length > 0 ? (
        <section className="impact-diverse">
          <h2>{say`Declared diverse, hit on both sides`}</h2>
          <ul className="signed">
            {answer.diverse.map(({ circuit: one, other, shared }) => (
              <li key={`${one.id} ${other.id}`}>
                <FindingMark shape="error" />
                <span>
                  {shared.length > 0
                    ? sayWith`${<TagLink record={one} />} and ${<TagLink record={other} />} both in ${<Tags records={shared} />}`
                    : sayWith`${<TagLink record={one} />} and ${<TagLink record={other} />}, each with another of what is lost`}{" "}
                  <a className="link small" href={addressOf("diverse", { of: one.tag })}>
                    {say`What do they share?`}
                  </a>
                </span>
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      {circuit ? <OneCircuit circuit={circuit} /> : null}
      {circuit ? (
        <LeafPart title={say`Taken as lost`}>
          <Things of={of} answer={answer} />
        </LeafPart>
      ) : (
        <>
          <LeafHead tag={say`Taken as lost`} />
          <Things of={of} answer={answer} />
        </>
      )}
      {answer && answer.unknown.length > 0 ? (
        <LeafPart title={say`Not on record, so that more may be lost`}>
          <Lacks words={answer.unknown} />
        </LeafPart>
      ) : null}
    </>
  );
}

const Things = ({ of, answer }: Pick<Props, "of" | "answer">) => (
  <ul className="impact-things">
    {readMany(of).map((one) => (
      <Thing key={one} one={one} of={of} answer={answer} />
    ))}
  </ul>
);

function OneCircuit({ circuit }: { readonly circuit: ImpactCircuit }) {
  const { stays, also_hit: both, cables, rides_on } = circuit;
  return (
    <div>
      <LeafHead tag={<TagLink record={circuit.circuit} strong />}>{circuit.name}</LeafHead>
      <Facts>
        <Fact name={say`Priority`}>{circuit.priority ?? say`none set`}</Fact>
        <Fact name={say`State`}>
          <StateWord state={circuit.state} />
        </Fact>
        <Fact name={say`Whose`}>{circuit.owner}</Fact>
        <Fact name={say`Loses`}>{HOW[circuit.how]}</Fact>
        <Fact name={say`In`}>{cables.length > 0 ? <Tags records={cables} page="cable" /> : null}</Fact>
        <Fact name={say`Rides on`}>{rides_on ? <TagLink record={rides_on} /> : null}</Fact>
        <Fact name={say`Stays`}>{stays.length > 0 ? <Tags records={stays} /> : null}</Fact>
        <Fact name={say`Hit too`}>{both.length > 0 ? <Tags records={both} /> : null}</Fact>
      </Facts>
      <p className="impact-goes">
        <a className="link" href={addressOf("find", { of: circuit.circuit.tag })}>
          {say`Where does it go?`}
        </a>
      </p>
    </div>
  );
}

const STRETCH = /^(.*\S)\s+-?[\d.]+\s*\.\.\s*-?[\d.]+$/;

function Thing({ one, of, answer }: { readonly one: string; readonly of: string; readonly answer: Props["answer"] }) {
  const cable = STRETCH.exec(one)?.[1] ?? one;
  const record = answer?.lost.find(({ record }) => record.tag === cable)?.record ?? null;
  return (
    <li>
      <div className="impact-thing">
        {record ? <TagLink record={record} words={one} strong /> : <span className="tag strong">{one}</span>}
        <Button onClick={() => goWith({ of: without(of, one), at: null })} label={say`Leave out ${one}`}>
          {say`Leave out`}
        </Button>
      </div>
      {record?.kind === "cable" ? <Stretch key={one} one={one} cable={cable} of={of} /> : null}
    </li>
  );
}

/** Only part of a cable, by the marks printed on its sheath. */
function Stretch({ one, cable, of }: { readonly one: string; readonly cable: string; readonly of: string }) {
  const [, first = "", last = ""] = /(-?[\d.]+?)\s*\.\.\s*(-?[\d.]+)$/.exec(one === cable ? "" : one) ?? [];
  const [from, setFrom] = useState(first);
  const [to, setTo] = useState(last);
  const [wrong, setWrong] = useState(false);
  const ask = (event: FormEvent): void => {
    event.preventDefault();
    const marks = [from, to].map((text) => text.trim().replace(",", "."));
    const bad = marks.some((text) => !/^-?\d+(\.\d+)?$/.test(text));
    setWrong(bad);
    if (!bad) goWith({ of: exchanged(of, one, `${cable} ${marks[0]}..${marks[1]}`), at: null });
  };
  return (
    <form className="impact-stretch" onSubmit={ask}>
      <label>
        <span>{say`from mark`}</span>
        <input value={from} size={6} inputMode="decimal" onChange={(event) => setFrom(event.target.value)} />
      </label>
      <label>
        <span>{say`to mark`}</span>
        <input value={to} size={6} inputMode="decimal" onChange={(event) => setTo(event.target.value)} />
      </label>
      <Button submit>{say`Only this stretch`}</Button>
      {one === cable ? null : (
        <Button onClick={() => goWith({ of: exchanged(of, one, cable), at: null })}>{say`The whole cable`}</Button>
      )}
      {wrong ? (
        <p role="alert" className="small">
          {say`Both marks are needed, as they are printed on the sheath.`}
        </p>
      ) : null}
    </form>
  );
}
