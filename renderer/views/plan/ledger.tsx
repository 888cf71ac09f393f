/** The plan as a table: what is asked about in its order, else every place and way; those that can't be drawn first. */
import { useState } from "react";
import type { PlanAnswer } from "../../../core/campus-plan/answer.ts";
import { say } from "../../../core/words/say.ts";
import { Button } from "../../controls/button.tsx";
import { count, useLength } from "../../controls/figures.ts";
import { TagLink } from "../../controls/tag-link.tsx";
import { Walked, type WalkedColumn } from "../../controls/walked.tsx";
import { FindingMark } from "../../drawing/findings.tsx";
import { refOf, spotOf, type Thing, type Things } from "./things.ts";
import { placeWords, shapeWords, wayWords, whereWords } from "./words.ts";

const FIRST = 120;

export interface PlanLedgerProps {
  readonly plan: PlanAnswer;
  readonly things: Things;
  readonly selected: Thing | null;
  readonly onSelect: (key: string) => void;
  readonly onOpen: (thing: Thing) => void;
}

export function PlanLedger({ plan, things, selected, onSelect, onOpen }: PlanLedgerProps) {
  const length = useLength();
  const [most, setMost] = useState(FIRST);
  const rows = rowsOf(plan, things);
  const at = selected ? rows.indexOf(selected) : -1;
  const shown = rows.slice(0, Math.max(most, at + 1));
  const columns: readonly WalkedColumn<Thing>[] = [
    {
      key: "tag",
      head: plan.asked.length > 0 ? say`along the way` : say`place or way`,
      show: (thing) => <TagLink record={refOf(thing)} strong />,
    },
    { key: "what", head: say`what it is`, show: ({ place, way }) => (place ? placeWords(place) : wayWords(way)) },
    {
      key: "length",
      head: say`length`,
      className: "figure",
      show: ({ way }) => (way ? (way.length_m === null ? say`not given` : length(way.length_m)) : ""),
    },
    {
      key: "cables",
      head: say`cables`,
      className: "figure",
      show: ({ way }) => (way ? (way.cables === 0 ? say`none` : count(way.cables)) : ""),
    },
    {
      key: "where",
      head: say`how its place is known`,
      show: (thing) => {
        const { place, way } = thing;
        const words = place ? whereWords(place, length) : shapeWords(way, length);
        const lacks = spotOf(thing) === null || way?.shape === "straight";
        return lacks ? (
          <span className="state-word">
            <FindingMark shape="gap" />
            {words}
          </span>
        ) : (
          words
        );
      },
    },
  ];
  return (
    <>
      <Walked
        label={plan.asked.length > 0 ? say`Along what is asked about` : say`Places and ways`}
        className="plan-table"
        columns={columns}
        rows={shown}
        keyOf={({ key }) => key}
        selected={selected?.key ?? null}
        onSelect={onSelect}
        onOpen={onOpen}
      />
      {rows.length > shown.length ? (
        <p className="plan-more">
          <Button onClick={() => setMost(shown.length + FIRST)}>
            {say`Show ${count(Math.min(FIRST, rows.length - shown.length))} more of ${count(rows.length)}`}
          </Button>
        </p>
      ) : null}
    </>
  );
}

function rowsOf(plan: PlanAnswer, things: Things): readonly Thing[] {
  if (plan.asked.length > 0) return things.course.flatMap((key) => things.byKey.get(key) ?? []);
  const lacking = things.all.filter((thing) => spotOf(thing) === null);
  return lacking.length === 0 ? things.all : [...lacking, ...things.all.filter((thing) => spotOf(thing) !== null)];
}
