/** Everything that can be done from here, for the list of acts: what is on screen, the window, the clerk's acts, every question. */

import { say } from "../../core/words/say.ts";
import type { Client } from "../client/client.ts";
import { ACT_GROUPS } from "../forms/acts/index.ts";
import { VIEWS } from "../views/registry.ts";
import type { View } from "../views/view.ts";
import { backUp, type Offer, offeredHere, turnTheme } from "./commands.ts";
import { askHelp } from "./help.tsx";
import { KEY_TABLE } from "./key-table.ts";
import { printPage } from "./paper.ts";
import { go } from "./router.ts";
import { redo, undo } from "./undo.ts";

type Run = (client: Client) => void;

/** What each act of the window does that the table of keys offers. */
const RUNS: Readonly<Record<string, Run>> = {
  before: () => history.back(),
  after: () => history.forward(),
  undo: (client) => void undo(client),
  redo: (client) => void redo(client),
  print: (client) => void printPage(client),
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

export function everyOffer(client: Client): readonly Offer[] {
  const everywhere = KEY_TABLE.flatMap(({ group, act, keys, words, offered }): Offer[] => {
    const run = group === "Everywhere" && offered ? RUNS[act] : undefined;
    return run
      ? [{ key: `window ${act}`, words, about: say`the window`, keys: keys[0] ?? null, run: () => run(client) }]
      : [];
  });
  return [
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
