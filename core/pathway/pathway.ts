/** What lies in a way: pipes, what is in each, and how full they are. */
import { fillOf, jamRatio } from "../fitness/reckon.ts";
import type { Row } from "../model/dictionary.ts";
import { type LimitInUse, type Limits, limitSource, limitsInUse } from "../standards/limits/in-use.ts";
import { pick, refOf, refsOf } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Occupant, PathwayAnswer, Pipe } from "./answer.ts";

type PathwayRow = Pick<Row<"pathway">, "kind" | "name" | "from_space_id" | "to_space_id" | "length_m">;
type ConduitRow = Pick<
  Row<"conduit">,
  "parent_id" | "bank_row" | "bank_column" | "state" | "colour" | "trade_size" | "inner_diameter_mm"
> & { readonly id: number; readonly tag: string; readonly pull_line: number | boolean | null };

interface LegRow {
  readonly id: number;
  readonly conduit_id: number | null;
  readonly cable_id: number;
  readonly life: Row<"cable">["life"];
  readonly outer_diameter_mm: number | null;
  readonly construction: Row<"cable_type">["construction"];
  readonly strands: number;
}

/** A cable that was taken out is no longer there; one that is only planned isn't yet. */
const THERE = "('in_place', 'out_of_use')";

const CONDUITS = `select id, tag, parent_id, bank_row, bank_column, state, colour, trade_size, inner_diameter_mm, pull_line
  from conduit where pathway_id = ? and life in ${THERE}`;

/** What one cable has otherwise than its type stands in `differs`. */
const LEGS = `select l.id, l.conduit_id, s.cable_id, c.life,
    case when json_type(c.differs, '$.outer_diameter_mm') is null then t.outer_diameter_mm
      else json_extract(c.differs, '$.outer_diameter_mm') end as outer_diameter_mm,
    case when json_type(c.differs, '$.construction') is null then t.construction
      else json_extract(c.differs, '$.construction') end as construction,
    (select count(*) from strand r where r.cable_id = c.id) as strands
  from (select id from leg where pathway_id = ?1
      union select g.id from conduit d cross join leg g on g.conduit_id = d.id where d.pathway_id = ?1) found
    cross join leg l on l.id = found.id
    cross join stop s on s.id = l.from_stop_id cross join cable c on c.id = s.cable_id
    left join cable_type t on t.id = c.type_id
  where l.life in ${THERE} and c.life in ${THERE} order by l.id`;

/** Refuses `not_found` or `ambiguous` for what names no way and no pipe of one. */
export async function pathwayShown(reader: Reader, what: string | number): Promise<PathwayAnswer> {
  const named = await pick(reader, what, {
    kinds: typeof what === "number" ? ["pathway"] : ["pathway", "conduit"],
    field: "what",
  });
  const { kind, id, tag } = named.kind === "pathway" ? named : await wayOf(reader, named.id);
  const pathway: RecordRef = { kind, id, tag };
  const [row] = await reader.rows<PathwayRow>(
    "select kind, name, from_space_id, to_space_id, length_m from pathway where id = ?",
    [pathway.id],
  );
  const conduits = await reader.rows<ConduitRow>(CONDUITS, [pathway.id]);
  const legs = await reader.rows<LegRow>(LEGS, [pathway.id]);
  const refs = {
    conduit: await refsOf(reader, "conduit", [
      ...conduits.map(({ id }) => id),
      ...conduits.flatMap(({ parent_id }) => parent_id ?? []),
    ]),
    cable: await refsOf(
      reader,
      "cable",
      legs.map(({ cable_id }) => cable_id),
    ),
    leg: await refsOf(
      reader,
      "leg",
      legs.map(({ id }) => id),
    ),
  };
  const limits = await limitsInUse(reader);
  const known = new Set(conduits.map(({ id }) => id));
  const occupants = (own: readonly LegRow[]): Occupant[] =>
    [...Map.groupBy(own, ({ cable_id }) => cable_id)]
      .flatMap(([id, [first, ...others]]): Occupant[] => {
        const cable = refs.cable.get(id);
        if (!first || !cable) return [];
        return [
          {
            cable,
            life: first.life,
            legs: [first, ...others].flatMap((leg) => refs.leg.get(leg.id) ?? []),
            strands: first.strands,
            outer_diameter_mm: first.outer_diameter_mm,
          },
        ];
      })
      .sort((a, b) => byTag(a.cable, b.cable));
  const pipes = conduits
    .flatMap((conduit): Pipe[] => {
      const ref = refs.conduit.get(conduit.id);
      if (!ref) return [];
      const inside = conduits.filter(({ parent_id }) => parent_id === conduit.id);
      const cables = legs.filter(({ conduit_id }) => conduit_id === conduit.id);
      const own = occupants(cables);
      return [
        {
          conduit: ref,
          inside: conduit.parent_id === null ? null : (refs.conduit.get(conduit.parent_id) ?? null),
          row: conduit.bank_row,
          column: conduit.bank_column,
          state: conduit.state,
          colour: conduit.colour,
          trade_size: conduit.trade_size,
          pull_line: conduit.pull_line === null ? null : Boolean(conduit.pull_line),
          inner_diameter_mm: conduit.inner_diameter_mm,
          occupants: own,
          pipes: inside.flatMap(({ id }) => refs.conduit.get(id) ?? []).sort(byTag),
          ...filled(conduit, cables, own, inside, limits),
        },
      ];
    })
    .sort(inBank);
  const loose = occupants(legs.filter(({ conduit_id }) => conduit_id === null || !known.has(conduit_id)));
  const ends = [row?.from_space_id ?? null, row?.to_space_id ?? null];
  const [from = null, to = null] = await Promise.all(
    ends.map((id) => (id === null ? null : refOf(reader, "space", id))),
  );
  const answer = {
    pathway,
    kind: row?.kind ?? null,
    name: row?.name ?? null,
    from,
    to,
    length_m: row?.length_m ?? null,
    pipes,
    loose,
  };
  return { ...answer, sentence: sentenceOf(answer) };
}

async function wayOf(reader: Reader, conduit: number): Promise<RecordRef> {
  const [row] = await reader.rows<{ pathway_id: number }>("select pathway_id from conduit where id = ?", [conduit]);
  return pick(reader, row?.pathway_id ?? 0, { kinds: ["pathway"], field: "what" });
}

const byTag = (a: RecordRef, b: RecordRef): number => a.tag.localeCompare(b.tag, "en", { numeric: true });

const inBank = (a: Pipe, b: Pipe): number =>
  Number(a.inside !== null) - Number(b.inside !== null) ||
  (a.row ?? 99) - (b.row ?? 99) ||
  (a.column ?? 99) - (b.column ?? 99) ||
  byTag(a.conduit, b.conduit);

const sensible = (mm: number | null): mm is number => mm !== null && mm > 0;

/** How much of a pipe is full, by the same limits as fitness. Of a pipe inside its bore is the least that it takes up. */
function filled(
  pipe: ConduitRow,
  cables: readonly LegRow[],
  occupants: readonly Occupant[],
  inside: readonly ConduitRow[],
  limits: Limits,
): Pick<Pipe, "fill" | "at_least" | "fill_limit" | "jam_ratio" | "jams" | "lacks"> {
  const many = occupants.length + inside.length;
  const none = { fill: null, at_least: false, fill_limit: null, jam_ratio: null, jams: null };
  if (many === 0) return { ...none, fill: 0, lacks: [] };
  const bore = pipe.inner_diameter_mm;
  const lacks = [
    ...(sensible(bore) ? [] : [say`the inner diameter of the pipe`]),
    ...occupants.flatMap(({ cable, outer_diameter_mm: mm }) =>
      sensible(mm) ? [] : [say`the outer diameter of ${cable.tag}`],
    ),
    ...(inside.length > 0 ? [say`the outer diameter of the pipes inside it`] : []),
  ];
  const limit = limits.get(limitFor(pipe, cables, many));
  const fill_limit = limit ? { value: limit.value, source: limitSource(limit) } : null;
  const sizes = [
    ...occupants.map(({ outer_diameter_mm: mm }) => mm),
    ...inside.map(({ inner_diameter_mm: mm }) => mm),
  ].filter(sensible);
  if (!sensible(bore) || sizes.length === 0) return { ...none, fill_limit, lacks };
  const fill = Math.round(fillOf(bore, sizes) * 10_000) / 10_000;
  if (lacks.length > 0) return { ...none, fill, at_least: true, fill_limit, lacks };
  const jam_ratio = jamRatio(bore, sizes, limits.get("jam.alike")?.value ?? 0);
  return {
    fill,
    at_least: false,
    fill_limit,
    jam_ratio: jam_ratio === null ? null : Math.round(jam_ratio * 100) / 100,
    jams: jamming(jam_ratio, limits.get("jam.from"), limits.get("jam.to")),
    lacks,
  };
}

export interface FillWith {
  readonly fill: number | null;
  readonly fill_limit: number | null;
  readonly source: string | null;
  /** The cables whose diameter isn't on record, the one that is added as null. */
  readonly unsized: readonly (RecordRef | null)[];
}

/** How full a pipe becomes with one more cable, and how full it may be then; null where a size is not on record. */
export function fillWith(
  pipe: Pipe,
  added: Pick<Row<"cable_type">, "outer_diameter_mm" | "construction"> | null,
  limits: Limits,
): FillWith {
  const cable = { construction: added?.construction ?? null };
  const limit = limits.get(limitFor({ parent_id: pipe.inside?.id ?? null }, [cable], pipe.occupants.length + 1));
  const sizes = [...pipe.occupants.map(({ outer_diameter_mm: mm }) => mm), added?.outer_diameter_mm ?? null];
  const bore = pipe.inner_diameter_mm;
  const known = sensible(bore) && sizes.every(sensible) && pipe.pipes.length === 0;
  const unsized = [...pipe.occupants.map(({ cable }) => cable), null].filter(
    (_, index) => !sensible(sizes[index] ?? null),
  );
  return {
    fill: known ? fillOf(bore, sizes.filter(sensible)) : null,
    fill_limit: limit?.value ?? null,
    source: limit ? limitSource(limit) : null,
    unsized,
  };
}

/** The thickest cable for which a pipe has room beside what lies in it, in millimetres; null where a size is not on record. */
export function roomIn(pipe: Pipe, limits: Limits): number | null {
  const { fill, fill_limit } = fillWith(pipe, { outer_diameter_mm: 1, construction: null }, limits);
  const bore = pipe.inner_diameter_mm;
  if (fill === null || fill_limit === null || bore === null) return null;
  const left = fill_limit * bore * bore - (fill * bore * bore - 1);
  return left <= 0 ? 0 : Math.floor(Math.sqrt(left) * 10) / 10;
}

function limitFor(
  { parent_id }: Pick<ConduitRow, "parent_id">,
  cables: readonly Pick<LegRow, "construction">[],
  many: number,
): string {
  if (parent_id !== null && cables.length > 0) {
    return cables.every(({ construction }) => construction === "microduct") ? "fill.microduct" : "fill.innerduct";
  }
  return many === 1 ? "fill.one" : many === 2 ? "fill.two" : "fill.more";
}

function jamming(ratio: number | null, from: LimitInUse | undefined, to: LimitInUse | undefined): Pipe["jams"] {
  if (ratio === null || !from || !to || ratio < from.value || ratio > to.value) return null;
  return { from: from.value, to: to.value, source: limitSource(from) };
}

const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count === 0 ? "no" : count} ${count === 1 ? one : many}`;

function sentenceOf({ pathway, pipes, loose }: Omit<PathwayAnswer, "sentence">): string {
  const cables = new Set([...pipes.flatMap((pipe) => pipe.occupants), ...loose].map(({ cable }) => cable.id)).size;
  if (pipes.length === 0) {
    return cables === 0
      ? say`Nothing on record lies in ${pathway.tag}.`
      : plural(
          cables,
          "{0} cable lies in {1}, which has no pipe on record.",
          "{0} cables lie in {1}, which has no pipe on record.",
          pathway.tag,
        );
  }
  const empty = pipes.filter(({ occupants, pipes: inside }) => occupants.length + inside.length === 0);
  const doubtful = empty.filter(({ state }) => state === "blocked" || state === "unproven").length;
  const full = pipes.filter(({ fill, fill_limit }) => fill !== null && fill_limit !== null && fill > fill_limit.value);
  const jams = pipes.filter(({ jams }) => jams !== null);
  const parts = [
    plural(
      empty.length,
      "{1} has {2} with {3}; {0} pipe is empty{4}.",
      "{1} has {2} with {3}; {0} pipes are empty{4}.",
      pathway.tag,
      counted(pipes.length, "pipe"),
      counted(cables, "cable"),
      doubtful === 0
        ? ""
        : doubtful === empty.length
          ? plural(empty.length, ", and blocked or unproven", ", all of them blocked or unproven")
          : say`, ${doubtful} of them blocked or unproven`,
    ),
    full.length > 0
      ? plural(
          full.length,
          "{1} is fuller than is usual.",
          "{1} are fuller than is usual.",
          full.map(({ conduit }) => conduit.tag).join(", "),
        )
      : "",
    jams.length > 0 ? say`In ${jams.map(({ conduit }) => conduit.tag).join(", ")} three cables alike may jam.` : "",
    loose.length > 0 ? say`Of ${counted(loose.length, "cable")} the pipe is not on record.` : "",
  ];
  return parts.filter(Boolean).join(" ");
}
