/** Files on their way to a record: looked through as they are taken, described, and then kept one by one. */
import { type Dispatch, type SetStateAction, useState } from "react";
import type { InputOf } from "../../core/operations/list.ts";
import { listed } from "../../core/words/phrase.ts";
import { say } from "../../core/words/say.ts";
import { useSettings } from "../client/settings.ts";
import { useAct } from "../client/use-act.ts";
import { notify, sayRefused } from "../frame/notices.tsx";
import { base64Of, unfit } from "./kept-files.ts";

export interface Staged {
  readonly key: number;
  readonly file: File;
  readonly caption: string;
  readonly taken_on: string | null;
  /** What is typed as its day can be read. */
  readonly readable: boolean;
  /** The name of the subject it is kept with; null, or a name that is gone, is the first. */
  readonly subject: string | null;
}

/** A record that files are kept with. */
export interface Subject {
  readonly of: InputOf<"attachment.add">["of"];
  /** What it is called. */
  readonly name: string;
}

export type Subjects = readonly [Subject, ...Subject[]];

export interface StagedFiles {
  readonly staged: readonly Staged[];
  /** Why some weren't taken. */
  readonly why: readonly string[];
  readonly by: string;
  readonly named: (by: string) => void;
  readonly running: number;
  readonly take: (files: Iterable<File>) => Promise<void>;
  readonly change: (key: number, more: Partial<Staged>) => void;
  readonly leaveOut: (key: number) => void;
  /** Others in their place, such as what could not be kept elsewhere. */
  readonly put: (staged: readonly Staged[]) => void;
  /** Why they can't be kept as they are described, which is also told beside them; null where they can. */
  readonly amiss: () => string | null;
  /** Keeps them one by one. The first that is refused, which is told, and those after it stay. */
  readonly keep: (subjects: Subjects) => Promise<Kept>;
}

export interface Kept {
  readonly files: number;
  /** Those that weren't. */
  readonly left: readonly Staged[];
  /** Names of what they are kept with. */
  readonly with: string;
}

let count = 0;
/** Tells one staged file from every other of this window. */
export const freshKey = (): number => ++count;

export const subjectOf = (subjects: Subjects, { subject }: Staged): Subject =>
  subjects.find(({ name }) => name === subject) ?? subjects[0];

/** What is staged, and how it is changed. */
export type Staging = readonly [readonly Staged[], Dispatch<SetStateAction<readonly Staged[]>>];

/** `held` is where they lie, if for longer than the part of the page that shows them. */
export function useStagedFiles(held?: Staging): StagedFiles {
  const { act, running } = useAct();
  const own = useState<readonly Staged[]>([]);
  const [staged, setStaged] = held ?? own;
  const [why, setWhy] = useState<readonly string[]>([]);
  const { person } = useSettings();
  /** Who works here took them, unless somebody else is named. */
  const [other, setOther] = useState<string | null>(null);
  const by = other ?? person;

  const put = (files: readonly Staged[]): void => {
    setWhy([]);
    setStaged(files);
  };
  const take = async (files: Iterable<File>): Promise<void> => {
    const reasons: string[] = [];
    const fit: Staged[] = [];
    for (const file of files) {
      const reason = await unfit(file);
      if (reason) reasons.push(reason);
      else fit.push({ key: freshKey(), file, caption: "", taken_on: null, readable: true, subject: null });
    }
    setWhy(reasons);
    setStaged((before) => [...before, ...fit]);
  };
  const change = (key: number, more: Partial<Staged>): void =>
    setStaged((before) => before.map((one) => (one.key === key ? { ...one, ...more } : one)));
  const leaveOut = (key: number): void => setStaged((before) => before.filter((one) => one.key !== key));
  const amiss = (): string | null => {
    const unread = staged.find(({ readable }) => !readable);
    const reason = unread ? say`${unread.file.name}: the day can't be read. Correct it, or leave it empty.` : null;
    setWhy(reason ? [reason] : []);
    return reason;
  };
  const keep = async (subjects: Subjects): Promise<Kept> => {
    let files = 0;
    const withWhat = new Set<string>();
    const told = () => ({ files, with: listed([...withWhat]), left: staged.slice(files) });
    for (const one of staged) {
      const { of, name } = subjectOf(subjects, one);
      const reply = await act("attachment.add", {
        of,
        ...{ name: one.file.name, content: await base64Of(one.file) },
        ...(one.caption.trim() === "" ? {} : { caption: one.caption }),
        ...(one.taken_on === null ? {} : { taken_on: one.taken_on }),
        ...(by.trim() === "" ? {} : { taken_by: by.trim() }),
      });
      if (!reply) return told();
      if (!reply.ok) {
        sayRefused(reply.error);
        return told();
      }
      files += 1;
      withWhat.add(name);
      for (const notice of reply.value.notices) notify(notice);
      leaveOut(one.key);
    }
    return told();
  };
  return { staged, why, by, named: setOther, running, take, change, leaveOut, put, amiss, keep };
}
