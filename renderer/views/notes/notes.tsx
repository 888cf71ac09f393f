/** "What do a crew's notes say?": each line beside the act it is understood as; all of it is one change. */
import { useState } from "react";
import type { InputOf } from "../../../core/operations/list.ts";
import type { Failure } from "../../../core/result.ts";
import { counted } from "../../../core/words/counted.ts";
import { say } from "../../../core/words/say.ts";
import { useAct } from "../../client/use-act.ts";
import { Button } from "../../controls/button.tsx";
import { count } from "../../controls/figures.ts";
import { base64Of } from "../../controls/kept-files.ts";
import { Refused } from "../../controls/refused.tsx";
import { notify, sayRefused } from "../../frame/notices.tsx";
import { Page } from "../../frame/page.tsx";
import { Region } from "../../frame/region.tsx";
import { useStatus } from "../../frame/use-status.ts";
import { useTried } from "../sheet/use-tried.ts";
import { draft } from "./draft.ts";
import { type Choices, LineFates } from "./line-fates.tsx";
import { NotesBox, type Typed } from "./notes-box.tsx";
import { PagePhoto } from "./page-photo.tsx";
import "./notes.css";

const NO_CHOICES: Choices = { answers: {}, leave_out: [], tell: [] };

/** What the button does: lines that are done and lines that are only kept are told apart. */
function whatItDoes(done: number, told: number): string {
  if (done + told === 0) return say`Nothing to take over`;
  if (told === 0) return say`Take over ${counted(done, "line", "lines")}`;
  if (done === 0) return say`Keep ${counted(told, "line", "lines")} as told`;
  return say`Take over ${counted(done, "line", "lines")}, keep ${counted(told, "line", "lines")} as told`;
}

export function Notes() {
  const [typed, setTyped] = useState<Typed>(draft.read);
  const [choices, setChoices] = useState<Choices>(NO_CHOICES);
  const [refused, setRefused] = useState<Failure | null>(null);
  const [photo, setPhoto] = useState<File | null>(null);
  const { act, running } = useAct();
  const readOnly = useStatus()?.read_only ?? null;
  const input: InputOf<"notes.rehearse"> | null =
    typed.text.trim() === ""
      ? null
      : {
          text: typed.text,
          ...choices,
          ...(typed.cable ? { cable: typed.cable } : {}),
          ...(typed.at ? { at: typed.at } : {}),
        };
  const tried = useTried("notes.rehearse", readOnly === null ? input : null, typed.meaning);
  const plan = tried.value;
  const done = plan?.lines.filter(({ fate }) => fate === "new" || fate === "changed").length ?? 0;
  const told = plan?.lines.filter(({ fate }) => fate === "told").length ?? 0;
  const ready = plan !== null && !tried.busy && plan.open + plan.refused === 0 && done + told > 0;

  const keptWith = plan?.visit ?? (typed.at || typed.cable || null);
  const keepPhoto = async (of: string | null): Promise<void> => {
    if (!photo || of === null) return;
    const content = await base64Of(photo);
    const reply = await act("attachment.add", {
      of,
      content,
      name: photo.name,
      caption: say`the page of the crew's notes`,
    });
    if (!reply) return;
    if (!reply.ok) return sayRefused(reply.error);
    setPhoto(null);
    notify(say`${photo.name} is kept with ${of}.`);
  };

  const type = (next: Typed) => {
    // Choices belong to lines by their numbers: other lines, other numbers.
    if (next.text.split("\n").length !== typed.text.split("\n").length) setChoices(NO_CHOICES);
    draft.write(next);
    setTyped(next);
  };
  const write = async () => {
    if (!plan || !input) return;
    setRefused(null);
    const reply = await act("notes.apply", { ...input, digest: plan.digest }, { meaning: typed.meaning });
    if (!reply) return;
    if (!reply.ok) return setRefused(reply.error);
    await keepPhoto(reply.value.answer.visit ?? keptWith);
    type({ ...typed, text: "" });
    const kept = told > 0 ? say`${counted(told, "line", "lines")} kept as told` : null;
    const taken = done > 0 || told === 0 ? say`${counted(done, "line", "lines")} taken over` : null;
    notify(say`${[taken, kept].filter(Boolean).join(", ")}. One undo takes all of it back.`);
  };

  return (
    <Page
      acts={
        <Button
          filled
          disabled={!ready || readOnly !== null}
          busy={running > 0 ? say`Writing` : null}
          onClick={() => void write()}
        >
          {whatItDoes(done, told)}
        </Button>
      }
      answer={
        readOnly ??
        (plan ? (
          <>
            <b>{say`${count(done)} to be done`}</b>
            {plan.open > 0 ? <b>{say`, ${count(plan.open)} to be asked`}</b> : null}
            {plan.refused > 0 ? <b>{say`, ${count(plan.refused)} refused`}</b> : null}
            {say`, ${count(told)} kept as told`}
            {say`${plan.visit ? say` in visit ${plan.visit}` : ""}. Nothing is written yet.`}
          </>
        ) : (
          say`Type or paste the lines as the crew wrote them; each is shown beside what it is understood as.`
        ))
      }
    >
      <div className="notes">
        <NotesBox typed={typed} change={type} />
        <Region name="ledger" label={say`What the lines are understood as`} className="notes-lines" reachable>
          {refused ? <Refused failure={refused} /> : null}
          {tried.failure ? <Refused failure={tried.failure} again={tried.again} /> : null}
          {plan ? <LineFates plan={plan} choices={choices} choose={setChoices} /> : <Forms />}
          {readOnly === null ? <PagePhoto photo={photo} choose={setPhoto} keptWith={keptWith} /> : null}
        </Region>
      </div>
    </Page>
  );
}

const FORMS: readonly (readonly [line: string, means: string])[] = [
  ["F-012 IN 1234 OUT 1267 MH-7", say`sheath marks of a cable at a place; OPEN 1240-1245 and COIL 30 ft as well`],
  [say`F-012 at MH-7`, say`what the lines below are about`],
  ["25-36 → H-3 1-12 T2", say`strands spliced to another cable's, in a tray`],
  ["1-12 → A 01-06", say`strands landed on the ports of a panel there`],
  [say`GR 1-12 express`, say`strands that run through uncut`],
  ["37-48 dead", say`their condition: dead, bad, good; spare and dark say nothing`],
  [say`GR & BR swapped at C-7`, say`two ranges that changed places at a case`],
];

function Forms() {
  return (
    <>
      <h2>{say`Lines that are understood`}</h2>
      <dl className="notes-forms">
        {FORMS.map(([line, means]) => (
          <div key={line}>
            <dt className="tag">{line}</dt>
            <dd>{means}</dd>
          </div>
        ))}
      </dl>
      <p className="soft">{say`Any other line is kept word for word, as told, in the notes of a visit.`}</p>
    </>
  );
}
