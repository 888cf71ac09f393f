/** Whether a kind of cable would fit a chain of ways, before it is bought, and how much of it to order. */
import { refuse } from "../result.ts";
import { pick, refOf, resolveOne } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { WouldFitAnswer } from "./answer.ts";
import {
  asksStrands,
  CABLE_SHEET,
  type Facts,
  type FitCable,
  type FitLeg,
  type FitStop,
  readSpaces,
  readWays,
  type Sheet,
  sheetOf,
  withOuter,
} from "./facts.ts";
import { depth } from "./held.ts";
import { indoors } from "./indoors.ts";
import { type About, type Judgement, judgement } from "./judgement.ts";
import { fitnessLimits, type Limits } from "./limits.ts";
import { staysOf } from "./metal.ts";
import { orderOf } from "./order.ts";
import { type Added, onePipe } from "./pipes.ts";
import { pull, routeOf, tensions } from "./pull.ts";
import { strandsOfTypes } from "./strands.ts";
import { cautionOf, countsTold, figureTold, namesOf, told } from "./told.ts";
import { lacking, metalLacks, metalOf, sheetRecord, weather } from "./weather.ts";
import { metres } from "./words.ts";

interface ChosenWay {
  readonly ref: RecordRef;
  readonly pathway_id: number;
  readonly conduit_id: number | null;
}

/**
 * @param way pathways in order, each by its address or by that of the pipe to be used
 * @throws Refusal `not_found`, `ambiguous`; `not_possible` for ways that don't meet
 */
export async function wouldFit(
  reader: Reader,
  { way, cable_type }: { readonly way: readonly string[]; readonly cable_type: string | number },
): Promise<WouldFitAnswer> {
  const type = await pick(reader, cable_type, { kinds: ["cable_type"], field: say`cable type` });
  const chosen = await chosenWays(reader, way);
  const limits = await fitnessLimits(reader);
  const ways = await readWays(
    reader,
    chosen.map(({ pathway_id }) => pathway_id),
    await withOuter(
      reader,
      chosen.flatMap(({ conduit_id }) => conduit_id ?? []),
    ),
  );
  const ends = [...ways.pathways.values()].flatMap(({ from_space_id, to_space_id }) => [from_space_id, to_space_id]);
  const facts: Facts = {
    ...ways,
    cables: [],
    spaces: await readSpaces(
      reader,
      ends.filter((id) => id !== null),
    ),
    bondsOfStop: new Map(),
    bondsOfClosure: new Map(),
    labels: new Map(),
  };
  const places = placesAlong(facts, chosen);
  const [row] = await reader.rows<Sheet & { tag: string }>(
    `select t.tag, ${CABLE_SHEET} from cable_type t where t.id = ?`,
    [type.id],
  );
  if (!row)
    refuse("not_found", say`That cable type is no longer on record.`, [
      { field: say`cable type`, reason: say`is not on record` },
    ]);
  const sheet = sheetOf(row, null);
  const strands = asksStrands(sheet) ? ((await strandsOfTypes(reader, [type.id])).get(type.id) ?? null) : null;
  const cable = { ...plannedCable(type, sheet, chosen, places, limits), strands };
  const order = orderOf(facts, chosen, places, limits);
  const answer = await told(reader, [
    ...metalPlanned(facts, cable),
    ...weather(facts, cable),
    ...indoors(facts, cable, limits),
    ...pipesChosen(facts, chosen, cable, limits),
    ...tensions(facts, cable, limits),
    ...onePull(facts, chosen, places, cable, limits),
    ...depth(facts, cable, limits),
  ]);
  const name = await namesOf(reader, [
    ...order.parts.flatMap(({ rests_on }) => rests_on),
    ...order.lacks.map(({ of }) => of),
  ]);
  return {
    type,
    ways: chosen.map(({ ref }) => ref),
    ...answer,
    order: {
      ...order,
      parts: order.parts.map((part) => figureTold(part, name)),
      lacks: order.lacks.map(({ what, of }) => say`${what}, of \`${name(of).tag}\``),
    },
    caution: await cautionOf(reader),
    sentence: sentenceOf(type, chosen, countsTold(answer.counts), order),
  };
}

function sentenceOf(
  { tag }: RecordRef,
  chosen: readonly ChosenWay[],
  fits: string,
  { length_m, at_least_m }: Pick<WouldFitAnswer["order"], "length_m" | "at_least_m">,
): string {
  const over = chosen.map(({ ref }) => ref.tag).join(", ");
  return length_m === null
    ? say`${tag} over ${over} ${fits}; order more than ${metres(at_least_m)}, for not all lengths are on record.`
    : say`${tag} over ${over} ${fits}; order ${metres(length_m)}.`;
}

async function chosenWays(reader: Reader, texts: readonly string[]): Promise<ChosenWay[]> {
  const ways: ChosenWay[] = [];
  for (const text of texts) {
    const ref = await resolveOne(reader, text, { kinds: ["pathway", "conduit"], field: "way" });
    const [pipe] =
      ref.kind === "conduit"
        ? await reader.rows<{ pathway_id: number }>("select pathway_id from conduit where id = ?", [ref.id])
        : [];
    const pathway_id = pipe?.pathway_id ?? ref.id;
    if (ways.some((one) => one.pathway_id === pathway_id)) {
      const known = (await refOf(reader, "pathway", pathway_id))?.tag ?? text;
      refuse("not_possible", say`${known} is named twice.`, [
        { record: text, field: "way", reason: say`is named twice` },
      ]);
    }
    ways.push({ ref, pathway_id, conduit_id: ref.kind === "conduit" ? ref.id : null });
  }
  return ways;
}

/** The places along a chain, one more than its ways; null where the record doesn't say. */
function placesAlong(facts: Facts, chosen: readonly ChosenWay[]): (number | null)[] {
  const endsOf = ({ pathway_id }: ChosenWay): readonly [number | null, number | null] => {
    const way = facts.pathways.get(pathway_id);
    return [way?.from_space_id ?? null, way?.to_space_id ?? null];
  };
  const [first, second] = chosen;
  if (!first) return [];
  const [from, to] = endsOf(first);
  const meets = (end: number | null, one: ChosenWay) => end !== null && endsOf(one).includes(end);
  const turned = second !== undefined && !meets(to, second) && meets(from, second);
  const places = turned ? [to, from] : [from, to];
  for (const [i, one] of chosen.slice(1).entries()) {
    const [a, b] = endsOf(one);
    const at = places.at(-1) ?? null;
    if (at === null || (at !== a && at !== b)) {
      const before = chosen[i]?.ref.tag ?? "";
      refuse("not_possible", say`${one.ref.tag} doesn't begin where ${before} ends.`, [
        {
          record: one.ref.tag,
          field: "way",
          reason: say`doesn't begin where ${before} ends, or an end is not on record`,
        },
      ]);
    }
    places.push(at === a ? b : a);
  }
  return places;
}

/** The cable as it would lie; nothing of it has a record, so its ids are below zero. */
function plannedCable(
  type: RecordRef,
  sheet: Sheet,
  chosen: readonly ChosenWay[],
  places: readonly (number | null)[],
  limits: Limits,
): FitCable {
  const last = places.length - 1;
  return {
    id: -1,
    tag: "",
    life: "planned",
    type_id: type.id,
    type_tag: type.tag,
    installed_on: null,
    warranty_until: null,
    warranty_conditions: null,
    mark_unit: null,
    mark_breaks: [],
    sheet,
    strands: null,
    stops: places.map(
      (space_id, i): FitStop => ({
        id: -1 - i,
        cable_id: -1,
        space_id,
        ordinal: i + 1,
        kind: i === 0 || i === last ? "end" : "passing",
        metal: null,
        metal_on: null,
        storage: i === 0 || i === last ? null : "none",
        coil_diameter_mm: null,
        slack_m: i === 0 || i === last ? (limits.get("order.coil.end")?.value ?? null) : 0,
        mark_in: null,
        mark_open_from: null,
        mark_open_to: null,
        mark_out: null,
        closure_id: null,
      }),
    ),
    legs: chosen.map(
      ({ pathway_id, conduit_id }, i): FitLeg => ({
        id: -1 - i,
        cable_id: -1,
        from_stop_id: -1 - i,
        to_stop_id: -2 - i,
        pathway_id,
        conduit_id,
        held: null,
      }),
    ),
  };
}

/** What has to be done about metal in each building the cable would enter. */
function metalPlanned(facts: Facts, cable: FitCable): Judgement[] {
  const stays = staysOf(facts, cable);
  const sheet = sheetRecord(cable);
  const told = { armour: cable.sheet.armour, metal: cable.sheet.metal };
  if (stays.length === 0) return [];
  const has = metalOf(cable);
  if (has === "none") return [judgement("metal", "fits", [sheet], { facts: { ...told, state: "no_metal" } })];
  if (has === "unknown") return [judgement("metal", "cannot_tell", [sheet], { facts: told, lacks: metalLacks(cable) })];
  return stays.map(({ building_id, stops }) => {
    const place: About = building_id === null ? ["space", stops[0]?.space_id ?? 0] : ["building", building_id];
    return judgement("metal", "caution", [place, sheet], { facts: { ...told, state: "planned" } });
  });
}

function pipesChosen(facts: Facts, chosen: readonly ChosenWay[], cable: FitCable, limits: Limits): Judgement[] {
  return chosen.flatMap(({ pathway_id, conduit_id }): Judgement[] => {
    if (conduit_id === null) {
      const way = facts.pathways.get(pathway_id);
      if (way?.kind !== "duct_bank") return [];
      const of: About = ["pathway", pathway_id];
      return [
        judgement("pipe_state", "cannot_tell", [of], {
          facts: { state: null },
          lacks: [lacking(say`which pipe is to be used`, of)],
        }),
      ];
    }
    const pipe = facts.conduits.get(conduit_id);
    if (!pipe) return [];
    const { outer_diameter_mm, construction } = cable.sheet;
    const added: Added = { about: sheetRecord(cable), outer_diameter_mm, construction };
    const good = pipe.state === "free" || pipe.state === "in_use";
    return [
      judgement(
        "pipe_state",
        pipe.state === "blocked" ? "does_not" : good ? "fits" : "caution",
        [["conduit", pipe.id]],
        {
          facts: { state: pipe.state },
        },
      ),
      ...onePipe(facts, pipe, limits, [added]),
    ];
  });
}

/** All ways in one pull; how it turns in the holes between them is not on record. */
function onePull(
  facts: Facts,
  chosen: readonly ChosenWay[],
  places: readonly (number | null)[],
  cable: FitCable,
  limits: Limits,
): Judgement[] {
  if (chosen.length < 2) return [];
  const routes = chosen.flatMap(({ pathway_id }, i) => {
    const way = facts.pathways.get(pathway_id);
    if (!way) return [];
    const route = routeOf(way);
    const along = way.from_space_id === places[i];
    return [{ ...route, parts: along ? route.parts : route.parts.toReversed() }];
  });
  const between = places.slice(1, -1).map((id) => lacking(say`how the cable turns in it`, ["space", id ?? 0]));
  const records = chosen.map(({ pathway_id }): About => ["pathway", pathway_id]);
  const { verdict, ...more } = pull(
    cable,
    {
      parts: routes.flatMap(({ parts }) => parts),
      lacks: [...routes.flatMap(({ lacks }) => lacks), ...between],
      figures: routes.flatMap(({ figures }) => figures),
    },
    limits,
    records,
  );
  return [
    judgement("tension", verdict, [...records, sheetRecord(cable)], {
      ...more,
      facts: { ...more.facts, ways: chosen.length },
    }),
  ];
}
