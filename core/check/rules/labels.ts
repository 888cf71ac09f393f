/** Rules of labels that are not there, can't be read, or are due. */
import { type KindName, kindOf } from "../../model/dictionary.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { isThere, keyOf, type LabelRow, labelRows, labelsDue } from "../label-places.ts";
import { type Case, defineRule, type Ground, listed, quote, quoted } from "../rule.ts";

type Counts = readonly (readonly [KindName, number])[];
const countsOf = (kinds: Iterable<KindName>): Counts =>
  [...Map.groupBy(kinds, (kind) => kind)].map(([kind, own]) => [kind, own.length] as const);

/** "3 cables and 1 panel". */
const kindsCounted = (counts: Counts): string[] =>
  counts.map(([kind, count]) => counted(count, kindOf(kind).one, kindOf(kind).many));

const SOURCE = say`Labels at each end and where a cable can be reached: TIA-606 asks for ends (second-hand); the plant's policy`;

interface Missing {
  readonly holder: readonly [KindName, number];
  readonly subject: readonly [KindName, number];
  readonly space_id: number | null;
}

/** One case a cable, panel or other thing: a panel without labels, not 96 ports. */
function byHolder(rows: readonly Missing[]): Case[] {
  return [...Map.groupBy(rows, ({ holder }) => keyOf(...holder)).values()].map((same): Case => {
    const [{ holder }] = same as [Missing];
    const ports = same.filter(({ subject }) => subject[0] !== holder[0]).map(({ subject }) => subject);
    const spaces = new Set(same.flatMap(({ space_id }) => space_id ?? []));
    return {
      records: [holder, ...(holder[0] === "cable" ? [...spaces].map((id) => ["space", id] as const) : []), ...ports],
      count: same.length,
      facts: { labels: same.length, ports: ports.length },
    };
  });
}

/** "on `F-012` at `MH-03` and `LIB/101`", "on 12 ports of `LIB/101/A`". */
const where = ({ records: [holder, ...rest], facts }: Case, tag: (kind: KindName, id: number) => string): string => {
  const spaces = rest.filter(([kind]) => kind === "space");
  const of = (facts.ports as number) > 0 ? say`${counted(facts.ports as number, "port")} of ` : "";
  return `${of}${quote(tag, holder)}${spaces.length > 0 ? say` at ${quoted(tag, spaces)}` : ""}`;
};

const sighted = (rows: readonly LabelRow[]): Missing[] =>
  rows.map(({ holder, subject_kind, subject_id, space_id }) => ({
    holder,
    subject: [subject_kind, subject_id],
    space_id,
  }));

export const labelMissing = defineRule({
  name: "labels.missing",
  family: "labels",
  severity: "warning",
  title: say`Label missing`,
  why: say`Somebody looked and found none. What has no label is taken for something else.`,
  source: SOURCE,
  async find(ground) {
    const due = (await labelsDue(ground)).filter(({ lacks }) => lacks === "missing");
    const missing: Missing[] = due.map(({ kind, id, holder, space_id }) => ({ holder, subject: [kind, id], space_id }));
    const told = new Set(due.map(({ kind, id, space_id }) => `${keyOf(kind, id)} ${kind === "cable" ? space_id : ""}`));
    // A label seen to be gone counts where none is asked for as well, unless another is there.
    const rows = await labelRows(ground);
    const placeOf = (row: LabelRow) =>
      `${keyOf(row.subject_kind, row.subject_id)} ${row.subject_kind === "cable" ? row.space_id : ""}`;
    const there = new Set(rows.filter(isThere).map(placeOf));
    const gone = rows.filter((row) => row.state === "missing" && !there.has(placeOf(row)) && !told.has(placeOf(row)));
    return byHolder([...missing, ...sighted(gone)]);
  },
  say: (one, tag) => ({
    sentence: say`No label is on ${where(one, tag)}, where somebody looked.`,
    repair: say`Write the label, and put it on.`,
  }),
});

export const labelNotLooked = defineRule({
  name: "labels.not_looked",
  family: "labels",
  severity: "gap",
  title: say`Nobody looked for labels`,
  why: say`Labels are due here and none is on record. Nobody looked at the whole place since, so they may well be there.`,
  source: SOURCE,
  async find(ground) {
    const due = (await labelsDue(ground)).filter(({ lacks }) => lacks === "not_looked");
    return [...Map.groupBy(due, ({ space_id }) => space_id)].map(([space_id, things]): Case => {
      const counts = countsOf(things.map(({ kind }) => kind).sort());
      return {
        records: [["space", space_id]],
        count: things.length,
        facts: { things: kindsCounted(counts) },
        held: counts,
      };
    });
  },
  say: ({ records: [space], facts, count }, tag) => ({
    sentence:
      count === 1
        ? say`At ${quote(tag, space)} nobody looked whether ${listed(facts.things as string[])} has the label that is due.`
        : say`At ${quote(tag, space)} nobody looked whether ${listed(facts.things as string[])} have the label that is due.`,
    repair: say`Look at the whole place once, and record the visit and the labels.`,
  }),
});

/** One case a holder, of labels that were seen in a state. */
const seenAs = async (ground: Ground, state: LabelRow["state"]): Promise<Case[]> =>
  byHolder(sighted((await labelRows(ground)).filter((row) => row.state === state)));

export const labelIllegible = defineRule({
  name: "labels.illegible",
  family: "labels",
  severity: "warning",
  title: say`Label can't be read`,
  why: say`A label that can't be read helps nobody.`,
  source: say`Common practice, no source`,
  find: (ground) => seenAs(ground, "illegible"),
  say: (one, tag) => ({
    sentence: say`The label on ${where(one, tag)} can't be read.`,
    repair: say`Make a new label.`,
  }),
});

export const labelWrong = defineRule({
  name: "labels.wrong",
  family: "labels",
  severity: "warning",
  title: say`Label seen to be wrong`,
  why: say`A wrong label sends a crew to the wrong cable.`,
  source: say`Common practice, no source`,
  find: (ground) => seenAs(ground, "wrong"),
  say: (one, tag) => ({
    sentence: say`The label on ${where(one, tag)} was seen to be wrong.`,
    repair: say`Make a new label; before anything is cut, identify the cable by two independent signs.`,
  }),
});

/** The day so many days before another, `YYYY-MM-DD`. */
export function daysBefore(day: string, days: number): string {
  const [year, month, date] = day.split("-").map(Number) as [number, number, number];
  return new Date(Date.UTC(year, month - 1, date - days)).toISOString().slice(0, 10);
}

/** Labels due to be made, by holder; told as late where the first of them is. */
async function dueCases(ground: Ground, late: boolean): Promise<Case[]> {
  const { today, policies } = ground;
  const limit = daysBefore(today, policies["labels.due_days"]);
  const rows = (await labelRows(ground)).filter(({ due_on }) => due_on !== null && due_on <= today);
  const holders = Map.groupBy(rows, ({ holder }) => keyOf(...holder));
  return [...holders.values()].flatMap((same): Case[] => {
    const since = same.map(({ due_on }) => due_on as string).sort()[0] as string;
    if (since < limit !== late) return [];
    return byHolder(sighted(same)).map((one) => ({ ...one, facts: { ...one.facts, since } }));
  });
}

const sayDue = (one: Case, tag: (kind: KindName, id: number) => string) => ({
  sentence: plural(
    one.count ?? 1,
    "{0} label on {1} has been due for renewal since {2}.",
    "{0} labels on {1} have been due for renewal since {2}.",
    where(one, tag),
    String(one.facts.since),
  ),
  repair: say`Print the labels, put them on, and record that it is done.`,
});

export const labelDue = defineRule({
  name: "labels.due",
  family: "labels",
  severity: "advice",
  title: say`Label due for renewal`,
  why: say`What the label says was changed on record; until a new label is made the two differ.`,
  source: say`Common practice, no source`,
  find: (ground) => dueCases(ground, false),
  say: sayDue,
});

export const labelDueLate = defineRule({
  name: "labels.due_late",
  family: "labels",
  severity: "warning",
  title: say`Label long due`,
  why: say`The label has said something else than the record for longer than the plant's policy allows.`,
  source: say`The plant's policy labels.due_days`,
  find: (ground) => dueCases(ground, true),
  say: sayDue,
});
