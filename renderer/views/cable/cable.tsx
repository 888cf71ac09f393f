/** What is a cable? Its course to scale, its inside, what every strand is doing. */
import { useMemo } from "react";
import type { CableAnswer, CableStop } from "../../../core/trace/cable-answer.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAnswer } from "../../client/use-answer.ts";
import { Answered } from "../../controls/answer.tsx";
import { PrintButton } from "../../controls/print-button.tsx";
import { Sentence } from "../../controls/sentence.tsx";
import { Tagged } from "../../controls/tagged.tsx";
import { CableSection } from "../../drawing/cable-section.tsx";
import { GhostSheath } from "../../drawing/ghosts.tsx";
import { useCurrentView } from "../../frame/current-view.ts";
import { Page, type PageProps } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { goWith } from "../../frame/router.ts";
import { matrixOf } from "../fitness/where.ts";
import { TemporaryLeft } from "../mend/temporary-left.tsx";
import { isBlank, type Part, type ViewProps } from "../view.ts";
import { CableLeaf } from "./cable-leaf.tsx";
import { Course } from "./course.tsx";
import { Legs, Stops } from "./course-tables.tsx";
import { Matrix } from "./matrix.tsx";
import "./cable.css";

export function Cable({ values }: ViewProps) {
  const of = values.of ?? "";
  const answer = useAnswer("cable.show", of ? { cable: of } : null);
  const shown = useShown(answer.value, values);
  // One page whatever it shows, so that the blank that was filled keeps the focus.
  if (!of) {
    return (
      <Page answer={say`Fill the blank with a cable's number, such as F-012.`}>
        <div className="teach">
          <GhostSheath />
          <p>{say`Where it runs and what is coiled where, what lies inside it, and what each of its strands is doing.`}</p>
        </div>
      </Page>
    );
  }
  return shown ? (
    <Page {...shown} />
  ) : (
    <Page>
      {
        <Answered answer={answer} asked={of} word={say`Reading the cable`}>
          {() => null}
        </Answered>
      }
    </Page>
  );
}

/** The question with the places of this cable's ends. */
function questionOf(question: readonly Part[], { stops }: CableAnswer): readonly Part[] {
  const name = (stop: CableStop | undefined, otherwise: string): string => {
    const place = stop?.place;
    return place?.space ? [place.building_name, place.space.tag].filter(Boolean).join(", ") : otherwise;
  };
  const words = [name(stops[0], say`its A end`), name(stops.at(-1), say`its B end`)];
  return question.map((part) =>
    isBlank(part) && part.fill === "choice"
      ? { ...part, choices: part.choices.map((choice, index) => ({ ...choice, words: words[index] ?? choice.words })) }
      : part,
  );
}

/** The parts of the page that tell a cable. */
function useShown(sheet: CableAnswer | undefined, values: Readonly<Record<string, string>>): PageProps | null {
  const { view } = useCurrentView();
  const strands = useMemo(() => sheet?.units.flatMap((unit) => unit.strands) ?? [], [sheet]);
  const judged = useAnswer("fitness.of", sheet ? { what: sheet.cable.id } : null).value;
  const fitness = useMemo(
    () => (sheet && judged && judged.cable.id === sheet.cable.id ? matrixOf(judged.verdicts, sheet) : null),
    [sheet, judged],
  );
  if (!sheet) return null;
  const far = values.from === "b";
  const wide = sheet.units.some((unit) => unit.strands.length > 12);
  const selected = strands.find(({ number }) => String(number) === values.at) ?? null;
  const records = [sheet.cable, ...sheet.stops.flatMap(({ place, closure }) => [place.space, closure])];
  return {
    sentence: <Sentence parts={questionOf(view.question, sheet)} values={values} />,
    answer: <Tagged text={sheet.sentence} records={records} />,
    acts: (
      <PrintButton name="paper.cable_sheet" input={{ cable: sheet.cable.tag }}>
        {say`Print the cable sheet`}
      </PrintButton>
    ),
    leaf: <CableLeaf sheet={sheet} strand={selected} far={far} />,
    children: (
      <>
        <TemporaryLeft of={sheet.cable.id} />
        <Region name="drawing" label={say`Its course`} className="cable-course">
          <Course sheet={sheet} />
        </Region>
        <div className={wide ? "cable-body wide" : "cable-body"}>
          <Inside sheet={sheet} wide={wide} />
          <Region name="ledger" label={say`Strands and course`} className="cable-tables">
            <Matrix
              sheet={sheet}
              far={far}
              selected={selected?.number ?? null}
              onSelect={(number) => goWith({ at: String(number) }, { replace: true })}
            />
            <Stops sheet={sheet} fitness={fitness} />
            <Legs sheet={sheet} fitness={fitness} />
          </Region>
        </div>
      </>
    ),
  };
}

function Inside({ sheet, wide }: { readonly sheet: CableAnswer; readonly wide: boolean }) {
  const { units, strands, cable, outer_diameter_mm: diameter_mm } = sheet;
  if (units.length === 0) {
    return (
      <div className="cable-inside">
        <p className="soft">{say`What lies inside it is not on record.`}</p>
      </div>
    );
  }
  return (
    <div className="cable-inside">
      <CableSection
        units={units}
        armoured={sheet.armoured}
        diameter_mm={diameter_mm}
        radius={wide ? 72 : 108}
        label={say`${cable.tag} cut across: ${counted(units.length, "unit", "units")}, ${counted(strands, "strand", "strands")}, in the order of their numbers`}
      />
      <p className="small faint">
        {diameter_mm === null
          ? say`Not to scale: its outer diameter is not on record. `
          : say`The sheath is drawn by its outer diameter. `}
        {say`What lies inside stands in order of number; sizes and lay are not on record.`}
      </p>
    </div>
  );
}
