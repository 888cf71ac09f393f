/** Everything that can be done from here, for the list of acts: what is on screen, the window, the clerk's acts, every question. */

import { isKindName, type KindName } from "../../core/model/dictionary.ts";
import type { RecordRef } from "../../core/trace/answer.ts";
import { say } from "../../core/words/say.ts";
import type { Client } from "../client/client.ts";
import { recordAddress } from "../controls/tag-link.tsx";
import { ACT_GROUPS } from "../forms/acts/index.ts";
import { VIEWS, viewOf } from "../views/registry.ts";
import type { View } from "../views/view.ts";
import { backUp, type Offer, offeredHere, pointedAt, turnTheme } from "./commands.ts";
import { askHelp } from "./help.tsx";
import { KEY_TABLE } from "./key-table.ts";
import { printPage } from "./paper.ts";
import { addressOf, go, parseRoute } from "./router.ts";
import { redo, undo } from "./undo.ts";

type Run = (client: Client) => void;

/** What each act of the window does that the table of keys offers. */
const RUNS: Readonly<Record<string, Run>> = {
  before: () => history.back(),
  after: () => history.forward(),
  undo: (client) => void undo(client),
  redo: (client) => void redo(client),
  print: (client) => void printPage(client),
  open: (client) => void client.capabilities.openPlant(),
  help: () => askHelp(null),
};

const WITHOUT_KEY: readonly { readonly key: string; readonly words: string; readonly run: Run }[] = [
  { key: "backup", words: say`back up now, beside the file`, run: (client) => void backUp(client) },
  { key: "theme", words: say`light, dark, or as the system`, run: turnTheme },
];

/** "Where does … go?" */
const sentenceOf = ({ question }: View): string =>
  question
    .map((part) => (typeof part === "string" ? part : "optional" in part && part.optional ? part.hint : "…"))
    .join("");

/** The record one is on, as a part of the window says it, or the page's question where it can be of one kind only. */
function recordHere(): RecordRef | null {
  const pointed = pointedAt();
  if (pointed) return pointed;
  const { path, values } = parseRoute(location.hash);
  // The page of a record names it before it is read.
  if (path === "record" && values.kind && isKindName(values.kind) && values.tag)
    return { kind: values.kind, id: Number(values.id ?? 0), tag: values.tag };
  const fits = viewOf(path)?.fits;
  const tag = fits && values[fits.blank];
  const [kind] = !fits || fits.kinds === "every" || fits.kinds.length !== 1 ? [] : fits.kinds;
  return kind && tag ? { kind, id: 0, tag } : null;
}

/** The views that can be asked about a record of the kind, the most telling first. */
export const viewsFor = (kind: KindName): View[] =>
  VIEWS.filter(({ fits }) => fits && (fits.kinds === "every" || fits.kinds.includes(kind)));

/** The address of what a view says of a record. */
export const addressAbout = (view: View, record: RecordRef): string =>
  view.path === "record" && record.id > 0
    ? recordAddress(record)
    : addressOf(view.path, {
        [view.fits?.blank ?? "of"]: record.tag,
        ...(view.path === "record" ? { kind: record.kind } : {}),
      });

/** What can be asked of the record one is on, but for what is being asked. */
export function questionsHere(): readonly Offer[] {
  const record = recordHere();
  if (!record) return [];
  const group = say`About ${record.tag}`;
  const here = parseRoute(location.hash).path;
  return viewsFor(record.kind)
    .filter(({ path }) => path !== here)
    .map((view) => ({
      key: `about ${view.path}`,
      words: view.fits?.about ?? "",
      about: record.tag,
      group,
      run: () => {
        location.hash = addressAbout(view, record);
      },
    }));
}

/** Acts whose sentence begins with the record one is on. */
function actsHere(): readonly Offer[] {
  const record = recordHere();
  if (!record) return [];
  return ACT_GROUPS.flatMap(({ acts }) => acts).flatMap((act): Offer[] => {
    const first = /\{([^}]+)\}/.exec(act.sentence)?.[1] ?? "";
    const blank = act.blanks[first];
    if (blank?.as !== "record" || !blank.kinds.includes(record.kind)) return [];
    return [
      {
        key: `about act ${act.name}`,
        words: act.title,
        about: record.tag,
        group: say`About ${record.tag}`,
        run: () => go("acts", { do: act.name, [first]: record.tag }),
      },
    ];
  });
}

export function everyOffer(client: Client): readonly Offer[] {
  const everywhere = KEY_TABLE.flatMap(({ group, act, keys, words, offered }): Offer[] => {
    const run = group === "Everywhere" && offered ? RUNS[act] : undefined;
    return run
      ? [{ key: `window ${act}`, words, about: say`the window`, keys: keys[0] ?? null, run: () => run(client) }]
      : [];
  });
  return [
    ...questionsHere(),
    ...actsHere(),
    ...offeredHere(),
    ...everywhere,
    ...WITHOUT_KEY.map(({ key, words, run }) => ({
      key: `window ${key}`,
      words,
      about: say`the window`,
      run: () => run(client),
    })),
    ...ACT_GROUPS.flatMap(({ title, acts }) =>
      acts.map((act) => ({
        key: `act ${act.name}`,
        words: act.title,
        about: title.toLowerCase(),
        run: () => go("acts", { do: act.name }),
      })),
    ),
    ...VIEWS.filter((view) => !view.unlisted).map((view) => ({
      key: `question ${view.path}`,
      words: sentenceOf(view),
      about: say`a question`,
      run: () => go(view.path),
    })),
  ];
}

const fold = (text: string): string => text.toLowerCase();

/** Those that hold every word; those that begin with the first come first. */
export function offersFor(offers: readonly Offer[], typed: string): readonly Offer[] {
  const words = fold(typed).split(/\s+/).filter(Boolean);
  const [first = ""] = words;
  const fits = offers.filter(({ words: own, about }) => words.every((word) => fold(`${own} ${about}`).includes(word)));
  return [
    ...fits.filter((offer) => fold(offer.words).startsWith(first)),
    ...fits.filter((offer) => !fold(offer.words).startsWith(first)),
  ];
}
