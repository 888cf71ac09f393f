/** What is next with a cable that was just entered: its photos, each with what it shows; its labels; its page. */
import type { RefObject } from "react";
import { say } from "../../../core/words/say.ts";
import { KeepFiles } from "../../controls/keep-files.tsx";
import { sayWith } from "../../controls/say-with.tsx";
import type { StagedFiles, Subjects } from "../../controls/staged-files.ts";
import { addressOf } from "../../frame/router.ts";
import type { RunPlan, TypedRun } from "./typed.ts";

export interface EnteredRun {
  readonly tag: string;
  /** What a crew takes photos of: the cable, its places, its cases and the panels it is landed on. */
  readonly things: Subjects;
}

/** `plan` is null before anything could be tried: then only the cable itself is known. */
export function enteredRun(typed: TypedRun, plan: RunPlan | null): EnteredRun {
  const tag = typed.tag.trim();
  const stops = plan?.course?.stops ?? [];
  const first = stops[0]?.place.space?.tag;
  const last = stops.at(-1)?.place.space?.tag;
  const panels = typed.landings.flatMap(({ end, panel }) => {
    const room = end === "A" ? first : last;
    const name = panel.trim();
    if (!name || !room) return [];
    return [name.includes("/") ? name : `${room}/${name}`];
  });
  const addresses = [...stops.flatMap(({ place, closure }) => [place.space?.tag, closure?.tag]), ...panels].filter(
    (one) => one !== undefined,
  );
  const others = [...new Set(addresses)].map((of) => ({ of, name: of }));
  return { tag, things: [{ of: tag, name: tag || say`the cable` }, ...others] };
}

interface Props {
  readonly run: EnteredRun;
  readonly first: RefObject<HTMLInputElement | null>;
  readonly files: StagedFiles;
}

export function Entered({ run: { tag, things }, first, files }: Props) {
  return (
    <section className="run-entered" aria-labelledby="run-photos">
      <h2 id="run-photos">{say`Photos of ${tag}`}</h2>
      <KeepFiles subjects={things} chooser={first} held={files} />
      <p>
        {sayWith`Then ${<a href={addressOf("labels", { of: tag })}>{say`print its labels`}</a>}, or ${<a href={addressOf("cable", { of: tag })}>{say`look at ${tag}`}</a>}. The next cable is typed below.`}
      </p>
    </section>
  );
}
