/** Rules of what labels say: against the record, against old wordings, and against each other; and of what is to be printed. */
import { factsAt, placeKey } from "../../labels/facts.ts";
import { judgeAt } from "../../labels/judge.ts";
import { inOwnSpaces } from "../../labels/what.ts";
import { textsAt } from "../../labels/worded.ts";
import { alsoRight, classOf, readWordings, saysItself, type Wordings } from "../../labels/wordings.ts";
import { type KindName, kindOf } from "../../model/dictionary.ts";
import { foldLabel, patternsFor } from "../../model/label-text.ts";
import { wasMade } from "../../model/labelled.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import type { FindingAct } from "../finding.ts";
import { isThere, keyOf, type LabelRow, labelRows } from "../label-places.ts";
import { type Case, defineRule, type Ground, type Names, quote, quoted } from "../rule.ts";

/** What is on the thing: what somebody read, else what was printed. */
const textOf = ({ text, text_read }: LabelRow): string | null => text_read ?? text;

interface Judged {
  readonly row: LabelRow;
  readonly text: string;
  readonly verdict: "wrong" | "old_style";
  /** What the record would print; null where it can't say. */
  readonly would: string | null;
}

const PAGE = 20_000;

/** What the labels of one kind are held against. */
interface Asked {
  readonly kind: KindName;
  readonly wordings: Wordings;
  readonly indoors: ReadonlySet<number>;
}

const placeOf = ({ kind, indoors }: Asked, { space_id }: LabelRow) =>
  classOf(kind, space_id !== null && indoors.has(space_id));

const spotOf = ({ subject_id, space_id }: LabelRow) => ({ id: subject_id, space_id });

/** Every wording that some label of a kind is held against; none where the plant itself says nothing of it. */
function wordingsAsked(kind: KindName, wordings: Wordings): string[] {
  const says = [true, false].some((indoors) => saysItself(wordings, kind, classOf(kind, indoors)));
  return says
    ? [...patternsFor(wordings.patterns, kind), ...(wordings.patterns.old[kind] ?? []), ...alsoRight(wordings, kind)]
    : [];
}

/** Labels whose text is not what the record would print, but for those already known to be wrong or due. */
const judged = (ground: Ground): Promise<Judged[]> =>
  ground.once("label texts", async () => {
    const { reader, breathe } = ground;
    const wordings = await readWordings(reader);
    const inside = await reader.rows<{ id: number }>("select id from space where building_id is not null");
    const indoors = new Set(inside.map(({ id }) => id));
    const rows = (await labelRows(ground)).filter(
      (row) => textOf(row) !== null && row.due_on === null && (row.state === null || row.state === "present"),
    );
    const found: Judged[] = [];
    for (const [kind, own] of Map.groupBy(rows, ({ subject_kind }) => subject_kind)) {
      const asked: Asked = { kind, wordings, indoors };
      const texts = wordingsAsked(kind, wordings);
      for (let from = 0; from < own.length; from += PAGE) {
        const page = own.slice(from, from + PAGE);
        const places = page.map((row) => ({ kind, ...spotOf(row) }));
        const there = texts.length > 0 ? await inOwnSpaces(reader, kind, places) : places;
        const facts = await factsAt(ground, kind, there, texts);
        const amiss: Omit<Judged, "would">[] = [];
        for (const [at, row] of page.entries()) {
          const known = facts.get(placeKey(there[at] as (typeof there)[number]));
          const text = textOf(row) as string;
          const verdict = known ? judgeAt(text, kind, placeOf(asked, row), known, wordings) : "unknown";
          if (!known || (verdict !== "wrong" && verdict !== "old_style")) continue;
          amiss.push({ row, text, verdict });
        }
        const would = await textsAt(
          ground,
          kind,
          amiss.map(({ row }) => spotOf(row)),
          wordings,
        );
        for (const one of amiss) found.push({ ...one, would: would.get(placeKey(spotOf(one.row)))?.text ?? null });
        await breathe();
      }
    }
    return found;
  });

/** A label's text inside a sentence: on one line, without the marks that set tags apart. */
const shown = (text: unknown): string =>
  `"${String(text)
    .replaceAll("`", "'")
    .replace(/\s*\n\s*/g, " / ")}"`;

/** One case a cable, panel or other thing, with the texts in question. */
const byHolder = (found: readonly Judged[]): Case[] =>
  [...Map.groupBy(found, ({ row }) => keyOf(...row.holder)).values()].map((same): Case => {
    const [{ row, would }] = same as [Judged];
    const subjects = new Map(same.map(({ row: one }) => [keyOf(one.subject_kind, one.subject_id), one]));
    const spaces = new Set(same.flatMap(({ row: one }) => one.space_id ?? []));
    const old = same.filter(({ verdict }) => verdict === "old_style").length;
    return {
      records: [
        row.holder,
        ...[...subjects.values()]
          .filter(({ subject_kind }) => subject_kind !== row.holder[0])
          .map(({ subject_kind, subject_id }) => [subject_kind, subject_id] as const),
        ...[...spaces].map((id) => ["space", id] as const),
      ],
      count: same.length,
      facts: {
        read: [...new Set(same.map(({ text }) => text))].sort().slice(0, 200),
        would,
        ...(old > 0 ? { old_wording: old } : {}),
      },
    };
  });

type Records = Case["records"];
const NAMED = 3;

/** What the labels are on: the thing itself; of a few ports or trays each by name, of many how many there are. */
function thingsOf(holder: Records[number] | undefined, parts: Records, tag: Names): string {
  if (parts.length === 0) return quote(tag, holder);
  if (parts.length <= NAMED) return quoted(tag, parts);
  const [kind] = parts[0] as Records[number];
  const { one, many } = kindOf(kind);
  const things = parts.every(([other]) => other === kind)
    ? counted(parts.length, one, many)
    : counted(parts.length, "thing");
  return say`${things} of ${quote(tag, holder)}`;
}

/** What the sentences about such a case say of it. */
function partsOf({ records: [holder, ...rest], facts }: Case, tag: Names) {
  const parts = rest.filter(([kind]) => kind !== "space");
  const spaces = rest.filter(([kind]) => kind === "space");
  const texts = facts.read as string[];
  return {
    on: `${thingsOf(holder, parts, tag)}${spaces.length > 0 ? say` at ${quoted(tag, spaces)}` : ""}`,
    texts: `${texts.slice(0, 3).map(shown).join(", ")}${texts.length > 3 ? say` and more` : ""}`,
    would: facts.would === null || parts.length > 1 ? "" : say`; by the record it would be ${shown(facts.would)}`,
  };
}

/** Writing the text of one label anew, where it is on the one thing at the one place. */
function anewAct({ records: [holder, ...rest], count }: Case, tag: Names): FindingAct | null {
  const [spaces, parts] = [rest.filter(([kind]) => kind === "space"), rest.filter(([kind]) => kind !== "space")];
  const subject = parts[0] ?? holder;
  if (count !== 1 || !subject) return null;
  const space = spaces[0] ? { space: tag(...spaces[0]) } : {};
  return { operation: "label.relabel", input: { subject: tag(...subject), ...space }, words: say`Write it anew` };
}

export const labelContradicts = defineRule({
  name: "labels.contradicts",
  family: "labels",
  severity: "error",
  title: say`Label that contradicts the record`,
  why: say`The label says one thing and the record another: a crew that trusts the label opens the wrong cable.`,
  source: say`The plant's label wording`,
  async find(ground) {
    return byHolder((await judged(ground)).filter(({ verdict, row }) => verdict === "wrong" && wasMade(row)));
  },
  say: (one, tag) => {
    const { on, texts, would } = partsOf(one, tag);
    return {
      sentence: plural(
        one.count ?? 1,
        "The label on {1} says {2}{3}.",
        "{0} labels on {1} say {2}{3}.",
        on,
        texts,
        would,
      ),
      repair: say`Find out which is right, and correct the record or make a new label.`,
    };
  },
});

export const labelToWriteAnew = defineRule({
  name: "labels.to_write_anew",
  family: "labels",
  severity: "advice",
  title: say`Label text to be written anew`,
  why: say`The text was only written down: no label with it was printed or seen. It isn't what would be printed today: it contradicts the record, or it follows a wording no longer in use.`,
  source: say`The plant's label wording`,
  async find(ground) {
    return byHolder((await judged(ground)).filter(({ row }) => !wasMade(row)));
  },
  say: (one, tag) => {
    const { on, texts, would } = partsOf(one, tag);
    const count = one.count ?? 1;
    const old = Number(one.facts.old_wording ?? 0);
    return {
      sentence:
        old === 0
          ? plural(
              count,
              "The text of the label on {1}, neither printed nor seen yet, is {2}{3}.",
              "The texts of {0} labels on {1}, neither printed nor seen yet, are {2}{3}.",
              on,
              texts,
              would,
            )
          : old === count
            ? plural(
                count,
                "The text of the label on {1}, neither printed nor seen yet, follows an old wording: {2}{3}.",
                "The texts of {0} labels on {1}, neither printed nor seen yet, follow an old wording: {2}{3}.",
                on,
                texts,
                would,
              )
            : plural(
                old,
                "The texts of {1} labels on {2}, neither printed nor seen yet, are {3}{4}; {0} of them only follows an old wording.",
                "The texts of {1} labels on {2}, neither printed nor seen yet, are {3}{4}; {0} of them only follow an old wording.",
                count,
                on,
                texts,
                would,
              ),
      repair: say`Print the label: what is printed is written anew. If it is there already, note what it says.`,
      act: anewAct(one, tag),
    };
  },
});

export const labelOldStyle = defineRule({
  name: "labels.old_style",
  family: "labels",
  severity: "advice",
  title: say`Label in an old wording`,
  why: say`The wording was right once, and what it says is still true.`,
  source: say`The plant's old label wording`,
  async find(ground) {
    const old = (await judged(ground)).filter(({ verdict, row }) => verdict === "old_style" && wasMade(row));
    return [...Map.groupBy(old, ({ row }) => row.subject_kind)].map(([kind, same]): Case => {
      const subjects = new Set(same.map(({ row }) => row.subject_id));
      return {
        records: [["plant", ground.plant.id], ...[...subjects].map((id) => [kind, id] as const)],
        keyword: kindOf(kind).many,
        count: same.length,
        facts: { kind: kindOf(kind).many, labels: same.length },
      };
    });
  },
  say: ({ records: [, ...subjects], facts, count = 1 }, tag) => ({
    sentence: plural(
      count,
      "{0} label on {1} follows an old wording: {2}.",
      "{0} labels on {1} follow an old wording: {2}.",
      String(facts.kind),
      quoted(tag, subjects),
    ),
    repair: say`Replace them when somebody is there anyway.`,
  }),
});

export const labelsAlike = defineRule({
  name: "labels.alike",
  family: "labels",
  severity: "warning",
  title: say`Cables whose labels read alike`,
  why: say`Who reads the label can't tell which cable is before them.`,
  source: say`Common practice, no source`,
  async find(ground) {
    const rows = (await labelRows(ground)).filter(
      (row) => row.subject_kind === "cable" && isThere(row) && foldLabel(textOf(row) ?? "") !== "",
    );
    return [...Map.groupBy(rows, (row) => foldLabel(textOf(row) ?? "")).values()].flatMap((same): Case[] => {
      const cables = new Set(same.map(({ subject_id }) => subject_id));
      if (cables.size < 2) return [];
      const records = [...cables].map((id) => ["cable", id] as const);
      return [
        {
          records,
          keyword: shown(same.map((row) => textOf(row) as string).sort()[0]),
          count: cables.size,
          facts: { texts: [...new Set(same.map((row) => textOf(row) as string))].sort().slice(0, 20) },
        },
      ];
    });
  },
  say: ({ records, facts }, tag) => ({
    sentence: say`The labels of ${quoted(tag, records)} read alike: ${shown((facts.texts as string[])[0])}.`,
    repair: say`Identify each cable by two independent signs, and make a new label for it.`,
  }),
});
