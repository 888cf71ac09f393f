/** Every key, and what the drawings mean. */
import type { ReactNode } from "react";
import { KINDS } from "../../../core/model/dictionary.ts";
import type { StrandState } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Sign } from "../../drawing/at.tsx";
import { COMB_FLAGGED, CombBar } from "../../drawing/comb.tsx";
import { type Fate, FateMark, FindingMark, type FindingShape } from "../../drawing/findings.tsx";
import { PlaceMark } from "../../drawing/places.tsx";
import { STATE_WORDS, STATES, StateMark } from "../../drawing/states.tsx";
import { Swatch } from "../../drawing/swatch.tsx";
import { KeyRows } from "../../frame/key-rows.tsx";
import { GROUP_WORDS, KEY_TABLE } from "../../frame/key-table.ts";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { JointKey, SheathKey } from "./drawn.tsx";
import { List, layer } from "./listed.tsx";
import "./keys.css";

const KEYS = Map.groupBy(KEY_TABLE, (row) => row.group);

const STATE_NOTES: Readonly<Record<StrandState, string>> = {
  in_service: say`lit, or could be`,
  reserved: say`until a day`,
  planned: say`not yet`,
  leased: say`a service of another owner`,
  spare: say`free to use`,
  dead: say`beyond a cut, joined to nothing`,
  broken: say`and why`,
  assigned_twice: say`both circuits are named`,
  unknown: say`the record doesn't say`,
};

const FINDINGS: readonly (readonly [FindingShape, string, string])[] = [
  ["hazard", say`hazard`, say`a person may be hurt`],
  ["caution", say`caution`, say`before you go there`],
  ["error", say`error`, say`two records can't both be true`],
  ["warning", say`warning`, say`over a limit or policy, or in doubt`],
  ["gap", say`gap`, say`not known, or nobody looked`],
  ["advice", say`advice`, say`could be better`],
  ["accepted", say`accepted`, say`with a reason, a name and a day`],
];

const FATES: readonly (readonly [Fate, string])[] = [
  ["new", say`new`],
  ["changed", say`changed`],
  ["same", say`same`],
  ["refused", say`refused, and why`],
];

const PLACES = ["maintenance_hole", "hand_hole", "pull_box", "pole", "cabinet", "pedestal"] as const;

export function Keys() {
  return (
    <Page
      answer={say`Strand colours belong to glass. Round marks say what a strand is doing, squares are findings, triangles are for people. What is on record is drawn in ink; what is asked or planned in olive.`}
    >
      <Region name="ledger" label={say`Keys and drawings`} className="keys-page">
        <section className="keys-keys">
          {[...KEYS].map(([group, rows]) => (
            <Group key={group} title={GROUP_WORDS[group]}>
              <KeyRows rows={rows} />
            </Group>
          ))}
        </section>
        <div className="keys-drawn">
          <div>
            <Group title={say`Strands and tubes 1 to 12, TIA-598`}>
              <Colours sequence="tia_598" from={1} to={12} />
            </Group>
          </div>
          <div>
            <Group title={say`13 and on: a stripe runs along`}>
              <Colours sequence="tia_598" only={[13, 16, 20, 24, 25]} />
            </Group>
            <Group title={say`IEC and DIN: a ring goes round`}>
              <Colours sequence="iec_60304" only={[1, 13, 19, 22]} />
            </Group>
            <Group title={say`As it lies: strand in tube`}>
              <List
                items={[
                  [3, 7],
                  [6, 6],
                  [8, 8],
                  [14, 13],
                ].map(([tube = 1, strand = 1]) => {
                  const colours = [layer("tube", tube, "tia_598"), layer("strand", strand, "tia_598")];
                  return {
                    mark: <Swatch key={tube} colours={colours} width={74} height={15} />,
                    word: `${tube} ${colours[0]?.words}, ${strand} ${colours[1]?.words}`,
                  };
                })}
              />
            </Group>
          </div>
          <div>
            <Group title={say`Joints and ends`}>
              <JointKey />
            </Group>
          </div>
          <div>
            <Group title={say`Along a sheath`}>
              <SheathKey />
            </Group>
            <Group title={say`Places`}>
              <List
                items={[
                  {
                    mark: (
                      <Sign size={18}>
                        <PlaceMark shape="room" />
                      </Sign>
                    ),
                    word: say`room of a building`,
                  },
                  ...PLACES.map((shape) => ({
                    mark: (
                      <Sign key={shape} size={18}>
                        <PlaceMark shape={shape} />
                      </Sign>
                    ),
                    word: KINDS.space.fields.kind.values[shape],
                  })),
                  {
                    mark: (
                      <Sign size={18}>
                        <PlaceMark shape="unknown" />
                      </Sign>
                    ),
                    word: say`other, or not known`,
                  },
                ]}
              />
            </Group>
          </div>
          <div>
            <Group title={say`What a strand is doing`}>
              <List
                items={STATES.map((state) => ({
                  mark: (
                    <span key={state} className="keys-state">
                      <StateMark state={state} />
                      <svg width="9" height={COMB_FLAGGED} aria-hidden="true">
                        <g transform={`translate(4.5 ${COMB_FLAGGED})`}>
                          <CombBar state={state} />
                        </g>
                      </svg>
                    </span>
                  ),
                  word: STATE_WORDS[state],
                  note: STATE_NOTES[state],
                }))}
              />
            </Group>
          </div>
          <div>
            <Group title={say`Findings`}>
              <List
                items={FINDINGS.map(([shape, word, note]) => ({
                  mark: <FindingMark key={shape} shape={shape} />,
                  word,
                  note,
                }))}
              />
            </Group>
            <Group title={say`What becomes of a row`}>
              <List items={FATES.map(([fate, word]) => ({ mark: <FateMark key={fate} fate={fate} />, word }))} />
            </Group>
          </div>
        </div>
      </Region>
    </Page>
  );
}

function Group({ title, children }: { readonly title: string; readonly children: ReactNode }) {
  return (
    <section className="keys-group">
      <h2>{title}</h2>
      {children}
    </section>
  );
}

interface ColoursProps {
  readonly sequence: "tia_598" | "iec_60304";
  readonly from?: number;
  readonly to?: number;
  readonly only?: readonly number[];
}

function Colours({ sequence, from = 1, to = 12, only }: ColoursProps) {
  const positions = only ?? Array.from({ length: to - from + 1 }, (_, index) => from + index);
  return (
    <List
      items={positions.map((position) => {
        const one = layer("strand", position, sequence);
        return {
          mark: <Swatch key={position} colours={[one]} width={74} height={15} />,
          word: `${position} ${one.words}`,
        };
      })}
    />
  );
}
