/** Where are coils missing? Cables by what a cut would take down, the one pointed at drawn to scale, and what cures it. */
import type { CoilsAnswer, CoilsCable } from "../../../core/repair/coils/answer.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { CircuitsByPriority } from "../../controls/circuits-by-priority.tsx";
import { count, useLength } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { addressOf, go, goWith } from "../../frame/router.ts";
import { readNumber } from "../../grid/reading-numbers.ts";
import type { ViewProps } from "../view.ts";
import { CableDetail } from "./cable-detail.tsx";
import { CoilsLeaf, Places, Untold } from "./coils-leaf.tsx";
import { LineDrawing } from "./line-drawing.tsx";
import "./coils.css";

function lostOf(text: string | undefined): number | null | undefined {
  if (!text?.trim()) return null;
  const read = readNumber(text, "none", "m");
  return typeof read === "number" ? read : undefined;
}

export function Coils({ values }: ViewProps) {
  const { of = "", at = "" } = values;
  const lost_m = lostOf(values.lost);
  const more = lost_m == null ? {} : { lost_m };
  const answer = useAnswer("coils.study", lost_m === undefined ? null : { ...(of ? { of } : {}), ...more });
  const cables = answer.value?.cables ?? [];
  const selected = cables.find(({ cable }) => cable.tag === at) ?? cables[0] ?? null;
  const one = selected?.cable.tag ?? answer.value?.of?.tag ?? "";
  const alone = answer.value?.of?.kind === "cable";
  const drawn = useAnswer("coils.study", one && !alone && lost_m !== undefined ? { of: one, ...more } : null);
  if (lost_m === undefined) return <Page answer={say`The metres lost must be a number, such as 2.`} />;
  return answer.value ? (
    <Page {...told(answer.value, selected, alone ? answer.value : (drawn.value ?? null))} />
  ) : (
    <Page>
      <Answered answer={answer} word={say`Cutting in thought`} {...(of ? { asked: of } : {})}>
        {() => null}
      </Answered>
    </Page>
  );
}

const Metres = ({ of }: { readonly of: number }) => {
  const length = useLength();
  return of === 0 ? <span className="faint">{say`none`}</span> : length(of);
};

function Urgent({ of: { circuits } }: { readonly of: CoilsCable }) {
  return circuits.length === 0 ? (
    <span className="faint">{say`none`}</span>
  ) : (
    <CircuitsByPriority of={circuits} most={3} />
  );
}

function CureWords({ of: { cure, cure_once_proven } }: { readonly of: CoilsCable }) {
  const length = useLength();
  const best = cure_once_proven ?? cure;
  const notes = [
    cure_once_proven ? say`once it is proven to slide` : "",
    best.left_open_m > 0 ? say`${length(best.left_open_m)} stay open` : "",
  ].filter(Boolean);
  return (
    <>
      {best.coils.length === 0
        ? cure_once_proven
          ? say`no coil more`
          : say`no coil helps`
        : best.coils.map(({ words, more_m }) => `${words} +${length(more_m)}`).join(", ")}
      {notes.length > 0 ? <span className="coils-under">{notes.join("; ")}</span> : null}
    </>
  );
}

const COLUMNS: readonly WalkedColumn<CoilsCable>[] = [
  { key: "cable", head: say`cable`, show: ({ cable }) => <TagLink record={cable} /> },
  { key: "circuits", head: say`circuits`, className: "figure", show: ({ circuits }) => count(circuits.length) },
  { key: "urgent", head: say`by priority`, show: (cable) => <Urgent of={cable} /> },
  {
    key: "strands",
    head: say`strands in service`,
    className: "figure",
    show: ({ strands_in_service }) => count(strands_in_service),
  },
  { key: "lacks", head: say`not from coils`, className: "figure", show: ({ lacks_m }) => <Metres of={lacks_m} /> },
  { key: "prove", head: say`to prove`, className: "figure", show: ({ to_prove_m }) => <Metres of={to_prove_m} /> },
  { key: "untold", head: say`can't be told`, className: "figure", show: ({ untold_m }) => <Metres of={untold_m} /> },
  { key: "way", head: say`of its way`, className: "figure", show: ({ asked_m }) => <Metres of={asked_m} /> },
  { key: "cure", head: say`the smallest set of coils`, show: (cable) => <CureWords of={cable} /> },
];

function told(answer: CoilsAnswer, selected: CoilsCable | null, drawn: CoilsAnswer | null): PageProps {
  const first = selected ?? answer.cables[0];
  const records = [answer.of, answer.cables[0]?.cable ?? null];
  return {
    answer: <Tagged text={answer.sentence} records={records} />,
    leaf: <CoilsLeaf answer={answer} />,
    children: (
      <>
        <Region name="drawing" label={say`The cable and its coils`} className="coils-drawing">
          {drawn?.line ? (
            <LineDrawing
              line={drawn.line}
              cable={drawn.of}
              stretches={drawn.cables[0]?.stretches ?? []}
              cure={drawn.cables[0]?.cure_once_proven ?? drawn.cables[0]?.cure ?? null}
            />
          ) : null}
        </Region>
        <Region name="ledger" label={say`Cables whose coils don't suffice`} className="coils-ledger">
          {answer.cables.length > 0 ? (
            <div className="coils-list">
              <Walked
                label={say`Cables that can't be mended from coils`}
                columns={COLUMNS}
                rows={answer.cables}
                keyOf={({ cable }) => cable.tag}
                selected={first?.cable.tag ?? null}
                onSelect={(at) => goWith({ at }, { replace: true })}
                onOpen={({ cable }) => go(addressOf("cable", { of: cable.tag }))}
                className="coils-cables"
              />
            </div>
          ) : null}
          <div className="coils-detail">
            {first ? <CableDetail cable={first} /> : null}
            <Places places={answer.places} />
            <Untold untold={answer.untold} />
          </div>
        </Region>
      </>
    ),
  };
}
