/** The box that finds any tag, part of one, or strand address, and offers the questions that fit. */
import { useCallback, useMemo, useRef, useState } from "react";
import { say } from "../../core/words/say.ts";
import { useAsked } from "../client/asked.ts";
import { useClient } from "../client/context.ts";
import { Combobox, type Option } from "../controls/combobox.tsx";
import { HitRow } from "../controls/hit-row.tsx";
import { sayWith } from "../controls/say-with.tsx";
import { recordAddress } from "../controls/tag-link.tsx";
import { type Hit, useFound } from "../controls/use-found.ts";
import { ACTS_SIGN, type Offer } from "./commands.ts";
import { focusBeforeSearch, focusQuestion } from "./focus-kept.ts";
import { keyWords } from "./key-words.ts";
import { addressAbout, everyOffer, offersFor, questionsHere, viewsFor } from "./offers.ts";

interface Goal extends Option {
  readonly address: string;
  readonly page?: string;
  /** An act of the window or of what is on screen, instead of an address. */
  readonly run?: () => void;
}

const MOST_RECENT = 6;
/** Questions about the best hit, or the record one is on: a cable has the most. */
const MOST_ASKED = 14;
/** Acts offered below the records that were found. */
const MOST_ACTS = 5;
/** A word is typed before acts are offered beside records: two letters are in half of them. */
const ACTS_FROM = 3;

/** The best hit with every question that fits it, the others with their first. */
function goalsOf(hits: readonly Hit[]): Goal[] {
  return hits.flatMap((hit, index) => {
    const views = viewsFor(hit.ref.kind);
    const page = recordAddress(hit.ref);
    return views.slice(0, index === 0 ? MOST_ASKED : 1).map((view, at): Goal => {
      return {
        key: `${hit.ref.kind} ${hit.ref.id} ${view.path}`,
        address: addressAbout(view, hit.ref),
        page,
        show:
          at === 0 ? (
            <HitRow hit={hit} beside={view.fits?.about} />
          ) : (
            <span className="hit-further">{view.fits?.about}</span>
          ),
      };
    });
  });
}

const goalOf = (offer: Offer): Goal => ({
  key: offer.key,
  address: "",
  group: offer.group ?? say`Acts: ${offer.about}`,
  run: offer.run,
  show: (
    <span className="hit-act">
      <b>{offer.words}</b>
      {offer.keys ? <kbd className="hit-key">{keyWords(offer.keys)}</kbd> : null}
    </span>
  ),
});

export function Search() {
  const [text, setText] = useState("");
  const [open, setOpen] = useState(false);
  const field = useRef<HTMLInputElement>(null);
  const client = useClient();
  const onlyActs = text.trimStart().startsWith(ACTS_SIGN);
  const found = useFound(onlyActs ? "" : text);
  const asked = useAsked();

  const goals = useMemo((): readonly Goal[] => {
    const typed = text.trim();
    if (onlyActs) return offersFor(everyOffer(client), typed.slice(ACTS_SIGN.length)).map(goalOf);
    if (typed === "")
      return [
        ...(open ? questionsHere().slice(0, MOST_ASKED).map(goalOf) : []),
        ...asked.slice(0, MOST_RECENT).map(
          (one): Goal => ({
            ...{ key: one.address, address: one.address, show: one.sentence, group: say`Asked lately` },
          }),
        ),
      ];
    const hits = goalsOf(found.hits);
    if (typed.length < ACTS_FROM) return hits;
    return [...hits, ...offersFor(everyOffer(client), typed).slice(0, MOST_ACTS).map(goalOf)];
  }, [text, onlyActs, client, found.hits, asked, open]);

  const leave = useCallback(() => {
    setOpen(false);
    setText("");
  }, []);
  const choose = useCallback(
    (goal: Goal, { ctrl }: { readonly ctrl: boolean }) => {
      leave();
      if (goal.run) {
        focusBeforeSearch();
        return goal.run();
      }
      location.hash = ctrl && goal.page ? goal.page : goal.address;
      // The answer is what was wanted: the next key works there.
      focusQuestion();
    },
    [leave],
  );

  return (
    <search className="search">
      <Combobox
        label={say`Find any tag, part of one, or a strand`}
        placeholder={say`Any tag, part of one, or F-012:25`}
        mark="data-search"
        text={text}
        onText={(given) => {
          setText(given);
          setOpen(true);
        }}
        options={goals}
        pending={!onlyActs && text.trim() !== "" && found.pending}
        open={open && (goals.length > 0 || text.trim() !== "")}
        onChoose={choose}
        onLeave={() => {
          if (text) setText("");
          else {
            setOpen(false);
            focusBeforeSearch();
          }
        }}
        inputRef={field}
        onFocus={() => setOpen(true)}
        onBlur={() => setOpen(false)}
        nothing={
          onlyActs
            ? sayWith`No act has ${<b>{text.trim().slice(ACTS_SIGN.length)}</b>} in its name.`
            : (found.error ?? sayWith`Nothing on record has ${<b>{text.trim()}</b>} in its tag, name or label.`)
        }
        hint={
          text.trim() === ""
            ? sayWith`${<kbd>{ACTS_SIGN}</kbd>} lists what can be done here`
            : goals[0]?.page
              ? sayWith`${<kbd>Enter</kbd>} asks, ${<kbd>{keyWords("Ctrl")}</kbd>} ${<kbd>Enter</kbd>} opens the record`
              : null
        }
        beside={<kbd>{keyWords("Ctrl K")}</kbd>}
      />
    </search>
  );
}
