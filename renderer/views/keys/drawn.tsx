/** Joints, ends and sheaths as they are drawn, with what they mean. */
import type { ReactNode } from "react";
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
      "fusion splice",
      "a round sleeve",
      <>
        {before}
        {after}
        {middle(<FusionSleeve />)}
      </>,
    ),
    one(
      "mechanical splice",
      "a square sleeve, clamped",
      <>
        {before}
        {after}
        {middle(<MechanicalSleeve />)}
      </>,
    ),
    one(
      "port",
      "the strand behind, a cord in front",
      <>
        {before}
        <Cord course={{ x1: MID, y1: Y, x2: W, y2: Y }} colours={YELLOW} />
        {middle(<PortMark />)}
      </>,
    ),
    one(
      "empty port",
      "seen empty: the line ends in a bar",
      <>
        {before}
        {middle(<OpenPort />)}
      </>,
    ),
    one(
      "assumed cord",
      "one circuit, one room, no cord on record",
      <Cord course={{ x1: 8, y1: Y, x2: W, y2: Y }} assumed />,
    ),
    one(
      "equipment",
      "the light begins or ends",
      <>
        <Cord course={{ x1: MID, y1: Y, x2: W, y2: Y }} colours={YELLOW} />
        {middle(<InterfaceBlock />)}
      </>,
    ),
    one(
      "bare glass",
      "in a tray or at a cut",
      <>
        {before}
        {middle(<BareEnd />)}
      </>,
    ),
    one(
      "handed over",
      "to another party",
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
      "the record ends",
      "the glass may not",
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
      "fork in the record",
      "all ways are shown, one is wrong",
      <>
        {before}
        {after}
        {middle(<ForkMark />)}
      </>,
    ),
    one(
      "splitter, filter",
      "a fork as built",
      <>
        {before}
        {after}
        {middle(<SplitterMark />)}
      </>,
    ),
    one(
      "ring",
      "the line comes back to itself",
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
    one("sheath", "measured by its marks", sheath),
    one("by pathway", "no marks: dotted", <Sheath course={{ x1: 0, y1: Y, x2: W, y2: Y }} unmarked />),
    one(
      "coil",
      "as long as it is, to scale",
      <>
        {sheath}
        {middle(<Coil width={36} />)}
      </>,
    ),
    one(
      "opened",
      "a closure on the sheath",
      <>
        {sheath}
        {middle(<ClosureMark />)}
      </>,
    ),
    one(
      "cut",
      "severed",
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
