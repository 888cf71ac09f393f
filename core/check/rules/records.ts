/** Rules of records of any kind: their dates, their tags, and that what is there is not in what is gone. */

import { KIND_NAMES, type KindName, kindOf } from "../../model/dictionary.ts";
import { foldLabel } from "../../model/label-text.ts";
import { shownDay } from "../../model/wording.ts";
import { PUBLISHED } from "../../standards/limits/published.ts";
import { counted, plural } from "../../words/counted.ts";
import { say } from "../../words/say.ts";
import { type Case, defineRule, lifeWords, listed, PRESENT, quote, quoted } from "../rule.ts";

/** Pairs of days of which the second is not before the first. */
const SPANS: readonly (readonly [first: string, second: string])[] = [
  ["life_from", "life_until"],
  ["from_on", "until_on"],
  ["installed_on", "warranty_until"],
  ["made_on", "opened_on"],
  ["made_on", "inspected_on"],
  ["starts_on", "ends_on"],
];

export const datesBackwards = defineRule({
  name: "truth.dates_backwards",
  family: "truth",
  severity: "error",
  title: say`Ends before it begins`,
  why: say`A day was mistyped: what holds until before it holds from never holds.`,
  source: say`Common practice, no source`,
  async find({ reader, breathe }) {
    const cases: Case[] = [];
    for (const kind of KIND_NAMES) {
      const { fields, ownedBy } = kindOf(kind);
      for (const [first, second] of SPANS) {
        if (!Object.hasOwn(fields, first) || !Object.hasOwn(fields, second)) continue;
        const owner = ownedBy?.length === 1 ? (ownedBy[0] as string) : null;
        const rows = await reader.rows<{ id: number; owner: number | null; first: string; second: string }>(
          `select id, ${owner ?? "null"} as owner, ${first} as first, ${second} as second from "${kind}"
           where ${second} < ${first} order by id`,
        );
        // What was entered with one owner and the same days is one slip.
        for (const same of Map.groupBy(
          rows,
          (row) => `${row.owner ?? `#${row.id}`} ${row.first} ${row.second}`,
        ).values()) {
          const [one] = same as [(typeof same)[number]];
          cases.push({
            records: same.map(({ id }) => [kind, id] as const),
            count: same.length,
            facts: {
              days: [one.first, one.second],
              fields: [fields[first]?.label ?? first, fields[second]?.label ?? second],
            },
          });
        }
      }
      await breathe();
    }
    return cases;
  },
  say: ({ records, facts }, tag) => {
    const [from, until] = facts.fields as [string, string];
    const [first, second] = facts.days as [string, string];
    return {
      sentence: say`${quoted(tag, records)}: "${until}" is ${shownDay(second)}, before "${from}", ${shownDay(first)}.`,
      repair: say`Correct the day that was mistyped.`,
    };
  },
});

/** Kinds whose tags people tell apart by eye, with what a tag is unique within. */
const TAGGED: readonly KindName[] = KIND_NAMES.filter((kind) => Object.hasOwn(kindOf(kind).fields, "tag"));

/** Which records of a kind are compared, by what their tags are unique within. Null: tags of that kind name nothing. */
function compared(kind: KindName): { readonly within: string; readonly where: string } | null {
  // A cord's number is whole for the plant, and nothing keeps two cords from bearing it.
  if (kind === "cord") return { within: "''", where: `tag is not null and life in ${PRESENT}` };
  const parents = kindOf(kind).address?.parents;
  if (!parents) return null;
  const within = parents.map((field) => `coalesce(${field}, '')`).join(" || ' ' || ") || "''";
  // Within one parent the store keeps tags apart: those of digits alone can't differ in what is folded.
  return { within, where: "tag glob '*[^0-9]*'" };
}

export const tagsAlike = defineRule({
  name: "truth.tags_alike",
  family: "truth",
  severity: "warning",
  title: say`Tags that read alike`,
  why: say`Two things whose tags are one, or differ in case, spaces or dashes only, are taken for each other.`,
  source: say`Common practice, no source`,
  async find({ reader, breathe }) {
    const cases: Case[] = [];
    for (const kind of TAGGED) {
      const which = compared(kind);
      if (!which) continue;
      const rows = await reader.rows<{ id: number; tag: string; within: string }>(
        `select id, tag, ${which.within} as within from "${kind}" where ${which.where}`,
      );
      const alike = Map.groupBy(rows, ({ tag, within }) => `${within} | ${foldLabel(tag)}`);
      for (const same of alike.values()) {
        if (same.length < 2) continue;
        cases.push({
          records: same.map(({ id }) => [kind, id] as const),
          count: same.length,
          facts: { kind: kindOf(kind).one, tags: same.map(({ tag }) => tag).sort() },
        });
      }
      await breathe();
    }
    return cases;
  },
  say: ({ records, facts }, tag) => ({
    sentence: say`The ${String(facts.kind)} tags ${quoted(tag, records)} read alike.`,
    repair: say`If they are one thing, keep one record; otherwise give one of them another tag.`,
  }),
});

/** What lies in what: [holder, what is in it, how it is found]. Parts that go with their holder are not among them. */
const HOLDERS: readonly { readonly holder: KindName; readonly inside: KindName; readonly from: string }[] = [
  { holder: "building", inside: "space", from: "space x on x.building_id = h.id" },
  { holder: "space", inside: "panel", from: "panel x on x.space_id = h.id" },
  { holder: "space", inside: "closure", from: "closure x on x.space_id = h.id" },
  { holder: "space", inside: "device", from: "device x on x.space_id = h.id" },
  { holder: "space", inside: "module", from: "module x on x.space_id = h.id" },
  { holder: "panel", inside: "module", from: "module x on x.panel_id = h.id" },
  { holder: "conduit", inside: "leg", from: "leg x on x.conduit_id = h.id" },
  // A cable that was pulled out, or is only planned, keeps its way on record; one in the yard has none.
  {
    holder: "cable",
    inside: "leg",
    from: "stop s on s.cable_id = h.id and h.life = 'in_stock' join leg x on x.from_stop_id = s.id",
  },
  { holder: "closure", inside: "splice", from: "tray t on t.closure_id = h.id join splice x on x.tray_id = t.id" },
  { holder: "tray", inside: "splice", from: "splice x on x.tray_id = h.id" },
  ...(["panel", "module"] as const).map((holder) => ({
    holder,
    inside: "termination" as const,
    from: `port o on o.${holder}_id = h.id join position i on i.port_id = o.id join termination x on x.position_id = i.id`,
  })),
  {
    holder: "port",
    inside: "termination",
    from: "position i on i.port_id = h.id join termination x on x.position_id = i.id",
  },
  ...(["panel", "module", "device"] as const).flatMap((holder) =>
    (["a", "b"] as const).map((end) => ({
      holder,
      inside: "cord" as const,
      from: `port o on o.${holder}_id = h.id join cord x on x.${end}_port_id = o.id`,
    })),
  ),
  ...(["a", "b"] as const).map((end) => ({
    holder: "port" as const,
    inside: "cord" as const,
    from: `cord x on x.${end}_port_id = h.id`,
  })),
];

export const insideGone = defineRule({
  name: "truth.inside_gone",
  family: "truth",
  severity: "error",
  title: say`In place in what is not`,
  why: say`A thing that is there can't be in a room, panel, case or pipe that is planned, in stock or removed.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const gone = new Map<
      string,
      { holder: readonly [KindName, number]; life: string; inside: Map<string, [KindName, number]> }
    >();
    for (const { holder, inside, from } of HOLDERS) {
      const rows = await reader.rows<{ holder_id: number; life: string; id: number }>(
        `select h.id as holder_id, h.life, x.id from "${holder}" h cross join ${from}
         where h.life not in ${PRESENT} and x.life in ${PRESENT} order by h.id, x.id`,
      );
      for (const { holder_id, life, id } of rows) {
        const key = `${holder} ${holder_id}`;
        const own = gone.get(key) ?? { holder: [holder, holder_id] as const, life, inside: new Map() };
        own.inside.set(`${inside} ${id}`, [inside, id]);
        gone.set(key, own);
      }
    }
    return [...gone.values()].map(({ holder, life, inside }): Case => {
      const kinds = Map.groupBy(inside.values(), ([kind]) => kind);
      return {
        records: [holder, ...inside.values()],
        count: inside.size,
        facts: {
          life,
          inside: [...kinds].map(([kind, own]) => counted(own.length, kindOf(kind).one, kindOf(kind).many)),
        },
        held: { life, inside: [...kinds].map(([kind, own]) => [kind, own.length] as const) },
      };
    });
  },
  say: ({ records: [holder], facts, count = 1 }, tag) => ({
    sentence: plural(
      count,
      "{1} is {2}, yet {3} {4} it is in place.",
      "{1} is {2}, yet {3} {4} it are in place.",
      quote(tag, holder),
      lifeWords(facts.life),
      listed(facts.inside as string[]),
      holder?.[0] === "cable" ? say`of` : say`in`,
    ),
    repair: say`Correct the life of the one or of the other.`,
  }),
});

export const overrideUnreasoned = defineRule({
  name: "truth.override_unreasoned",
  family: "truth",
  severity: "gap",
  title: say`Limit overridden without a reason`,
  why: say`The plant uses another value than the published one, and nobody can say why: an auditor can't defend what rests on it.`,
  source: say`Common practice, no source`,
  async find({ reader }) {
    const rows = await reader.rows<{ id: number; tag: string; value: number | null }>(
      "select id, tag, value from limit_value where value is not null and trim(coalesce(reason, '')) = '' order by tag, id",
    );
    const published = new Map(PUBLISHED.map((limit) => [limit.tag, limit.value]));
    return rows.flatMap(({ id, tag, value }): Case[] => {
      const other = published.get(tag);
      if (other === undefined || other === value) return [];
      return [{ records: [["limit_value", id]], facts: { value, published: other } }];
    });
  },
  say: ({ records: [limit], facts }, tag) => ({
    sentence: say`${quote(tag, limit)} is ${String(facts.value)} in this plant and ${String(facts.published)} as published, and no reason is on record.`,
    repair: say`Record why, or take the plant's own value back.`,
  }),
});
