/** The order of records in a table, as SQL: tags naturally, strands by cable and number, references by their address. */
import { KINDS, type KindName, kindOf } from "../model/dictionary.ts";
import type { Field } from "../model/field.ts";
import { named } from "./relations.ts";

export interface Sort {
  readonly field: string;
  readonly descending?: boolean | undefined;
}

interface Join {
  readonly table: string;
  readonly on: string;
  /** Whether there always is such a record. */
  readonly inner: boolean;
}

/** The tables a query reads beside the kind's own, `t`, and the kinds its result depends on. */
export class Joins {
  readonly kinds: Set<KindName>;
  readonly #own: string;
  readonly #joins: Join[] = [];
  readonly #byColumn = new Map<string, string>();

  constructor(kind: KindName) {
    this.kinds = new Set([kind]);
    this.#own = `${named(kind)} t`;
  }

  /** The alias of the record that a column refers to. */
  to(alias: string, field: string, kind: KindName, required: boolean): string {
    const column = `${alias}.${named(field)}`;
    const known = this.#byColumn.get(column);
    if (known !== undefined) return known;
    const joined = `j${this.#byColumn.size + 1}`;
    this.#byColumn.set(column, joined);
    this.kinds.add(kind);
    const inner = required && this.#joins.every((join) => join.inner);
    this.#joins.push({ table: `${named(kind)} ${joined}`, on: `${joined}.id = ${column}`, inner });
    return joined;
  }

  /** What follows FROM. */
  get sql(): string {
    return [
      this.#own,
      ...this.#joins.map(({ table, on, inner }) => `${inner ? "JOIN" : "LEFT JOIN"} ${table} ON ${on}`),
    ].join(" ");
  }

  /**
   * The same for a whole table in the order of its addresses: read from the topmost parent down, the engine follows its
   * indices and needn't sort.
   */
  get fromTheTop(): string {
    if (!this.#joins.every((join) => join.inner)) return this.sql;
    const tables = [...this.#joins.map((join) => join.table).reverse(), this.#own];
    const conditions = this.#joins.map((join) => join.on).reverse();
    return tables.map((table, i) => (i === 0 ? table : `CROSS JOIN ${table} ON ${conditions[i - 1]}`)).join(" ");
  }
}

const fieldsOf = (kind: KindName): Readonly<Record<string, Field>> => KINDS[kind].fields;
const NAME_SEPARATOR = "char(1)";

/** Own name of a record as a term: the sort key of a tag, else a number. */
const ownTerm = (kind: KindName, alias: string): string => {
  const name = kindOf(kind).address?.name;
  return name === undefined ? `${alias}.id` : `${alias}.${named(name === "tag" ? "tag_key" : name)}`;
};

/** Parents of a kind by address; a kind inside itself only one level up, beside its other parents. */
const parentsOf = (kind: KindName) =>
  (kindOf(kind).address?.parents ?? []).map((field) => {
    const declared = fieldsOf(kind)[field];
    if (declared?.type !== "reference") throw new Error(`${kind}.${field} is no reference`);
    return { field, to: declared.to as KindName, required: Boolean(declared.required) };
  });

/** Terms that put records of a kind in the order of their addresses. */
export function addressTerms(kind: KindName, alias: string, joins: Joins): string[] {
  const parents = parentsOf(kind);
  const inside = parents.find((parent) => parent.to === kind);
  const others = parents.filter((parent) => parent.to !== kind);
  const [only] = others;
  if (inside && only && others.length === 1) {
    const owner = addressTerms(only.to, joins.to(alias, only.field, only.to, only.required), joins);
    const parent = ownTerm(kind, joins.to(alias, inside.field, kind, false));
    const own = ownTerm(kind, alias);
    return [...owner, `coalesce(${parent}, ${own})`, `${alias}.${named(inside.field)}`, own, `${alias}.id`];
  }
  if (only && others.length === 1) {
    const parent = joins.to(alias, only.field, only.to, only.required);
    return [...addressTerms(only.to, parent, joins), ownTerm(kind, alias), `${alias}.id`];
  }
  if (others.length > 1) return [addressKey(kind, alias, joins), `${alias}.id`];
  return kindOf(kind).address ? [ownTerm(kind, alias), `${alias}.id`] : [`${alias}.id`];
}

/** The whole address as one text in sort order: where a record can have parents of several kinds. */
function addressKey(kind: KindName, alias: string, joins: Joins): string {
  const name = kindOf(kind).address?.name;
  const own = name === "tag" ? ownTerm(kind, alias) : `printf('%09d', ${ownTerm(kind, alias)})`;
  const keys = parentsOf(kind)
    .filter((parent) => parent.to !== kind)
    .map(({ field, to }) => addressKey(to, joins.to(alias, field, to, false), joins));
  return keys.length === 0 ? own : `(coalesce(${keys.join(", ")}, '') || ${NAME_SEPARATOR} || ${own})`;
}

/** Terms that sort by one field; what is not known comes last either way. */
function fieldTerms(kind: KindName, { field: name, descending }: Sort, joins: Joins): string[] {
  const field = fieldsOf(kind)[name];
  if (!field) throw new Error(`${kind} has no field ${name}`);
  const column = `t.${named(name)}`;
  const last = field.required ? [] : [`${column} IS NULL`];
  const way = descending ? " DESC" : "";
  const by = (terms: readonly string[]) => [...last, ...terms.map((term) => `${term}${way}`)];
  switch (field.type) {
    case "text":
      return by(name === "tag" ? ["t.tag_key"] : [`${column} COLLATE NOCASE`]);
    case "choice": {
      const places = Object.keys(field.values).map((key, place) => `WHEN '${key.replaceAll("'", "''")}' THEN ${place}`);
      return by([`CASE ${column} ${places.join(" ")} END`]);
    }
    case "reference":
      return by(
        addressTerms(field.to as KindName, joins.to("t", name, field.to as KindName, Boolean(field.required)), joins),
      );
    default:
      return by([column]);
  }
}

/** ORDER BY terms of a table; ties stand in the order of addresses for the first open view, else by id. */
export function orderTerms(kind: KindName, sort: readonly Sort[], joins: Joins): string[] {
  if (sort.length === 0) return addressTerms(kind, "t", joins);
  return [...sort.flatMap((one) => fieldTerms(kind, one, joins)), "t.id"];
}
