/** Joints, ends and sheaths as they are drawn, with what they mean. */
import type { ReactNode } from "react";
import { say } from "../../../core/words/say.ts";
import { At } from "../../drawing/at.tsx";
import {
  BareEnd,
  ClosureMark,
  Coil,
  CutMark,
  ForkMark,
  FusionSleeve,
  HandedOver,
  InterfaceBlock,
  MechanicalSleeve,
  OpenPort,
  PortMark,
  RecordEnds,
  RingMark,
  SplitterMark,
} from "../../drawing/joints.tsx";
import { Cord, Run, Sheath } from "../../drawing/run.tsx";
import { List, layer } from "./listed.tsx";

const W = 120;
const MID = W / 2;
const Y = 15;
const GREEN = [layer("tube", 3, "tia_598"), layer("strand", 7, "tia_598")];
const BLUE = [layer("tube", 1, "tia_598"), layer("strand", 10, "tia_598")];
const YELLOW = [layer("strand", 9, "tia_598")];

const Drawn = ({ children }: { readonly children: ReactNode }) => (
  <svg width={W} height={30} aria-hidden="true">
    {children}
  </svg>
);

const before = <Run course={{ x1: 0, y1: Y, x2: MID, y2: Y }} colours={GREEN} />;
const after = <Run course={{ x1: MID, y1: Y, x2: W, y2: Y }} colours={BLUE} />;
const middle = (mark: ReactNode): ReactNode => (
  <At x={MID} y={Y}>
    {mark}
  </At>
);

interface Meaning {
  readonly word: string;
  readonly note: string;
  readonly drawing: ReactNode;
}

const one = (word: string, note: string, drawing: ReactNode): Meaning => ({ word, note, drawing });

export function JointKey() {
  const items = [
    one(
      say`fusion splice`,
      say`a round sleeve`,
      <>
        {before}
        {after}
        {middle(<FusionSleeve />)}
      </>,
    ),
    one(
      say`mechanical splice`,
      say`a square sleeve, clamped`,
      <>
        {before}
        {after}
        {middle(<MechanicalSleeve />)}
      </>,
    ),
    one(
      "port",
      say`the strand behind, a cord in front`,
      <>
        {before}
        <Cord course={{ x1: MID, y1: Y, x2: W, y2: Y }} colours={YELLOW} />
        {middle(<PortMark />)}
      </>,
    ),
    one(
      say`empty port`,
      say`seen empty: the line ends in a bar`,
      <>
        {before}
        {middle(<OpenPort />)}
      </>,
    ),
    one(
      say`assumed cord`,
      say`one circuit, one room, no cord on record`,
      <Cord course={{ x1: 8, y1: Y, x2: W, y2: Y }} assumed />,
    ),
    one(
      say`equipment`,
      say`the light begins or ends`,
      <>
        <Cord course={{ x1: MID, y1: Y, x2: W, y2: Y }} colours={YELLOW} />
        {middle(<InterfaceBlock />)}
      </>,
    ),
    one(
      say`bare glass`,
      say`in a tray or at a cut`,
      <>
        {before}
        {middle(<BareEnd />)}
      </>,
    ),
    one(
      say`handed over`,
      say`to another party`,
      <>
        {before}
        {middle(
          <g transform="translate(14 0)">
            <HandedOver />
          </g>,
        )}
      </>,
    ),
    one(
      say`the record ends`,
      say`the glass may not`,
      <>
        {before}
        {middle(
          <g transform="translate(10 0)">
            <RecordEnds />
          </g>,
        )}
      </>,
    ),
    one(
      say`fork in the record`,
      say`all ways are shown, one is wrong`,
      <>
        {before}
        {after}
        {middle(<ForkMark />)}
      </>,
    ),
    one(
      say`splitter, filter`,
      say`a fork as built`,
      <>
        {before}
        {after}
        {middle(<SplitterMark />)}
      </>,
    ),
    one(
      say`ring`,
      say`the line comes back to itself`,
      <>
        {before}
        {middle(
          <g transform="translate(12 0)">
            <RingMark />
          </g>,
        )}
      </>,
    ),
  ];
  return <DrawnList items={items} />;
}

export function SheathKey() {
  const sheath = <Sheath course={{ x1: 0, y1: Y, x2: W, y2: Y }} />;
  const items = [
    one(say`sheath`, say`measured by its marks`, sheath),
    one(say`by pathway`, say`no marks: dotted`, <Sheath course={{ x1: 0, y1: Y, x2: W, y2: Y }} unmarked />),
    one(
      say`coil`,
      say`as long as it is, to scale`,
      <>
        {sheath}
        {middle(<Coil width={36} />)}
      </>,
    ),
    one(
      say`opened`,
      say`a closure on the sheath`,
      <>
        {sheath}
        {middle(<ClosureMark />)}
      </>,
    ),
    one(
      say`cut`,
      say`severed`,
      <>
        {sheath}
        {middle(<CutMark />)}
      </>,
    ),
  ];
  return <DrawnList items={items} />;
}

function DrawnList({ items }: { readonly items: readonly Meaning[] }) {
  return (
    <List
      items={items.map(({ word, note, drawing }) => ({
        word,
        note,
        mark: <Drawn key={word}>{drawing}</Drawn>,
      }))}
    />
  );
}
