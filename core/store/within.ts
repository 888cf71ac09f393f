/**
 * Which records lie in, on or along another record: rooms in a building, ports on a panel, splices in a closure, the
 * cables that come by a hole. Follows the references of the dictionary and knows of no kind but cables, which lie where
 * their stops and legs do.
 */
import { KINDS, type KindName, kindOf, type Value } from "../model/dictionary.ts";
import type { Joins } from "./order.ts";
import { named, REFERENCES } from "./relations.ts";

export interface Within {
  readonly kind: KindName;
  readonly id: number;
}

interface Condition {
  readonly sql: string;
  readonly parameters: readonly Value[];
}

/** References that every kind may hold; they say nothing of where a record lies. */
const ASIDE = new Set(["life_job_id", "owner_id", "basis_visit_id", "basis_paper_id", "key_holder_id"]);
/** Following any of these one never comes to a place by way of glass that merely ends there. */
const GLASS: ReadonlySet<KindName> = new Set(["cable", "unit", "strand", "section"]);

interface Way {
  readonly field: string;
  readonly to: KindName;
}

/** References of a kind by which it may lie in the target. */
function waysFrom(kind: KindName, target: KindName, first: boolean): Way[] {
  const owners = new Set([...(kindOf(kind).address?.parents ?? []), ...(kindOf(kind).ownedBy ?? [])]);
  return REFERENCES[kind].flatMap(({ field, to }): Way[] => {
    if (ASIDE.has(field)) return [];
    if (to === target) return [{ field, to }];
    const ends = kind === "section" && to === "stop";
    if (ends && !first) return [];
    if (GLASS.has(to) && !GLASS.has(target) && !owners.has(field)) return [];
    const leads = owners.has(field) || ["places", "ways", "cable", "glass", "patching"].includes(KINDS[to].group);
    return leads && to !== "cable_type" ? [{ field, to }] : [];
  });
}

const MOST_STEPS = 6;

/** The condition on the alias of a kind, or null when no way leads to the target. */
function conditionFor(
  kind: KindName,
  alias: string,
  target: Within,
  joins: Joins,
  passed: readonly KindName[],
): Condition | null {
  if (passed.length > MOST_STEPS) return null;
  const all: Condition[] = [];
  for (const { field, to } of waysFrom(kind, target.kind, passed.length === 0)) {
    const column = `${alias}.${named(field)}`;
    if (to === target.kind) all.push({ sql: `${column} = ?`, parameters: [target.id] });
    if (to === kind || passed.includes(to) || to === target.kind) continue;
    const inner = conditionFor(to, named(to), target, joins, [...passed, kind]);
    if (!inner) continue;
    joins.kinds.add(to);
    all.push({
      sql: `${column} IN (SELECT id FROM ${named(to)} WHERE ${inner.sql})`,
      parameters: inner.parameters,
    });
  }
  if (kind === "cable" && target.kind !== "cable") all.push(...cableWays(alias, target, joins));
  if (all.length === 0) return null;
  return {
    sql: `(${all.map((one) => one.sql).join(" OR ")})`,
    parameters: all.flatMap((one) => one.parameters),
  };
}

/** A cable is where it stops, and in the ways its legs take. */
function cableWays(alias: string, target: Within, joins: Joins): Condition[] {
  const found: Condition[] = [];
  const stops = conditionFor("stop", named("stop"), target, joins, ["cable"]);
  if (stops) {
    joins.kinds.add("stop");
    found.push({
      sql: `${alias}.id IN (SELECT cable_id FROM "stop" WHERE ${stops.sql})`,
      parameters: stops.parameters,
    });
  }
  if (target.kind !== "pathway" && target.kind !== "conduit") return found;
  const legs = conditionFor("leg", named("leg"), target, joins, ["cable", "stop"]);
  if (legs) {
    joins.kinds.add("stop").add("leg");
    found.push({
      sql: `${alias}.id IN (SELECT cable_id FROM "stop" WHERE id IN (SELECT from_stop_id FROM "leg" WHERE ${legs.sql}))`,
      parameters: legs.parameters,
    });
  }
  return found;
}

/** Records of a kind that lie in the target; one of the target's own kind is the target itself or what lies inside it. */
export function withinCondition(kind: KindName, target: Within, joins: Joins): Condition {
  const condition = conditionFor(kind, "t", target, joins, []);
  if (kind !== target.kind) return condition ?? { sql: "0", parameters: [] };
  return condition
    ? { sql: `(t.id = ? OR ${condition.sql})`, parameters: [target.id, ...condition.parameters] }
    : { sql: "t.id = ?", parameters: [target.id] };
}
