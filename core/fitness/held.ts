/** What a cable is held to at its stops and ends: coils, connectors, cover, warranty. */
import type { LimitInUse } from "../standards/limits/in-use.ts";
import { say } from "../words/say.ts";
import type { Facts, FitCable, FitPathway } from "./facts.ts";
import {
  type About,
  derived,
  type Figure,
  type Judgement,
  judgement,
  limitFigure,
  recorded,
  round,
} from "./judgement.ts";
import { type Limits, saidOf } from "./limits.ts";
import { lacking, sheetRecord } from "./weather.ts";

const SHEET = say`the data sheet, or what the cable has otherwise`;

/** The least bend radius in mm: of the sheet, else so many diameters; none where neither is on record. */
export function bendRadius(
  { id, type_id, sheet }: Pick<FitCable, "id" | "type_id" | "sheet">,
  limits: Limits,
  when: "rest" | "loaded",
): Figure | null {
  const of: About = type_id === null ? ["cable", id] : ["cable_type", type_id];
  const own = when === "rest" ? sheet.bend_radius_mm : sheet.bend_radius_loaded_mm;
  const words = when === "rest" ? say`least bend radius at rest` : say`least bend radius under tension`;
  if (own !== null && own > 0) return recorded(words, own, "mm", of, SHEET);
  const times = limits.get(`bend.${when}`);
  if (!times || !sheet.outer_diameter_mm) return null;
  const limit = limitFigure(times, words);
  return {
    ...limit,
    value: round(times.value * sheet.outer_diameter_mm),
    unit: "mm",
    source: say`${times.value} outside diameters of ${sheet.outer_diameter_mm} mm: ${limit.source}`,
    rests_on: [...limit.rests_on, of],
  };
}

export function coils(_facts: Facts, cable: FitCable, limits: Limits): Judgement[] {
  const sheet = sheetRecord(cable);
  const least = bendRadius(cable, limits, "rest");
  return cable.stops.flatMap((stop): Judgement[] => {
    const { coil_diameter_mm: across, storage } = stop;
    const of: About = ["stop", stop.id];
    if (across === null) {
      if (storage !== "coil" && storage !== "figure_eight") return [];
      return [judgement("coil", "cannot_tell", [of, sheet], { lacks: [lacking(say`the coil's diameter`, of)] })];
    }
    const radius = derived(say`radius of the coil`, across / 2, "mm", say`half the diameter on record`, [of]);
    if (least === null) {
      return [
        judgement("coil", "cannot_tell", [of, sheet], {
          figures: [radius],
          lacks: [lacking(say`a bend radius or an outer diameter`, sheet)],
        }),
      ];
    }
    return [
      judgement("coil", across / 2 < (least.value as number) ? "does_not" : "fits", [of, sheet], {
        facts: { radius_mm: round(across / 2), least_mm: least.value },
        figures: [radius, least],
      }),
    ];
  });
}

/** How strands of one coating are terminated on one panel, counted. */
export interface Terminations {
  readonly cable_id: number;
  readonly panel_id: number | null;
  readonly method: string | null;
  readonly coating_um: string | null;
  readonly strands: number;
}

/** Reads terminations of some cables, counted; of all, only connectors put on strands directly. */
export const TERMINATIONS = (all: boolean): string =>
  `select s.cable_id, p.panel_id, t.method, u.coating_um, count(*) as strands
   from ${all ? "termination t join section e on e.id = t.section_id join strand s on s.id = e.strand_id" : "strand s join section e on e.strand_id = s.id join termination t on t.section_id = e.id"}
     left join unit u on u.id = s.unit_id join position o on o.id = t.position_id join port p on p.id = o.port_id
   where t.life in ('in_place', 'out_of_use') and ${all ? "t.method = 'direct'" : "s.cable_id in (select value from json_each(?))"}
   group by s.cable_id, p.panel_id, t.method, u.coating_um order by s.cable_id, p.panel_id, t.method, u.coating_um`;

export function buffers(cable: FitCable, rows: readonly Terminations[]): Judgement[] {
  const sheet = sheetRecord(cable);
  return rows.map(({ panel_id, method, coating_um, strands }): Judgement => {
    const { construction } = cable.sheet;
    // What a tight-buffered cable holds is 900 µm unless its units say otherwise; any other construction holds bare coating.
    const bare =
      coating_um === null ? (construction === null ? null : construction !== "tight_buffered") : coating_um !== "900";
    const about: (About | null)[] = [panel_id === null ? null : ["panel", panel_id], ["cable", cable.id], sheet];
    const told = { facts: { strands, method, coating_um, construction } };
    if (method === null) {
      return judgement("buffer", "cannot_tell", about, {
        ...told,
        lacks: [lacking(say`how its strands are terminated`, ["cable", cable.id])],
      });
    }
    if (method !== "direct") return judgement("buffer", "fits", about, told);
    if (bare === null) {
      return judgement("buffer", "cannot_tell", about, {
        ...told,
        lacks: [lacking(say`the coating of its strands`, ["cable", cable.id])],
      });
    }
    return judgement("buffer", bare ? "does_not" : "fits", about, told);
  });
}

export function depth(facts: Facts, cable: FitCable, limits: Limits): Judgement[] {
  const buried = cable.legs.flatMap((leg) => {
    const way = facts.pathways.get(leg.pathway_id ?? 0);
    return way && (way.kind === "duct_bank" || way.kind === "direct_buried")
      ? [{ leg, way, least: leastDepth(facts, way, limits) }]
      : [];
  });
  // Without an owner's number there is one thing to say of all of them.
  const free = buried.filter(({ least }) => !least);
  return [
    ...(free.length === 0
      ? []
      : [
          noLeastDepth(
            facts,
            free.map(({ way }) => way),
            limits,
          ),
        ]),
    ...buried.flatMap(({ leg, way, least }): Judgement[] => {
      if (!least) return [];
      const records: About[] = [
        ["leg", leg.id],
        ["pathway", way.id],
      ];
      const told = {
        facts: { depth_m: way.depth_m, least_m: least.value },
        figures: [...depthFigures([way]), limitFigure(least, say`least cover`)],
      };
      if (way.depth_m === null) {
        return [
          judgement("depth", "cannot_tell", records, {
            ...told,
            lacks: [lacking(say`its depth`, ["pathway", way.id])],
          }),
        ];
      }
      return [judgement("depth", way.depth_m < least.value ? "does_not" : "fits", records, told)];
    }),
  ];
}

/** What the owner of the ground asks for: of the owner and kind of way, of the owner, of the kind, of all. */
function leastDepth(facts: Facts, way: FitPathway, limits: Limits): LimitInUse | undefined {
  return limits.first(...depthTags(facts, way));
}

function depthTags(facts: Facts, way: FitPathway): string[] {
  const owner = way.owner_id === null ? null : facts.owners.get(way.owner_id);
  return [
    ...(owner ? [`depth.least.${owner}.${way.kind}`, `depth.least.${owner}`] : []),
    `depth.least.${way.kind}`,
    "depth.least",
  ];
}

const depthFigures = (ways: readonly FitPathway[]): Figure[] =>
  ways.flatMap(({ id, depth_m }) =>
    depth_m === null ? [] : [recorded(say`cover on record`, depth_m, "m", ["pathway", id], say`the pathway`)],
  );

function noLeastDepth(facts: Facts, ways: readonly FitPathway[], limits: Limits): Judgement {
  const records = [...new Set(ways.map(({ id }) => id))].map((id): About => ["pathway", id]);
  const usual = [...new Set(ways.map(({ kind }) => `depth.usual.${kind}`))].flatMap((tag) => limits.get(tag) ?? []);
  const tags = new Set(ways.flatMap((way) => depthTags(facts, way)));
  const wrong = [...tags].flatMap((tag) => limits.senseless(tag) ?? []);
  return judgement("depth", "cannot_tell", records, {
    facts: { least_m: null, ways: records.length },
    figures: [...depthFigures(ways), ...usual.map((limit) => limitFigure(limit, say`usual cover, for comparison`))],
    lacks: [
      lacking(say`the least depth its owner asks (a limit depth.least)`, records[0] as About),
      ...wrong.map((limit) =>
        lacking(say`a least depth that can be, not ${saidOf(limit)}`, ["limit_value", limit.record?.id ?? 0]),
      ),
    ],
  });
}

export function warranty(cable: FitCable, today: string): Judgement[] {
  const { warranty_until: until, warranty_conditions: conditions, id } = cable;
  if (until === null && conditions === null) return [];
  const facts = { until, conditions };
  const records: About[] = [["cable", id]];
  if (until === null) {
    return [
      judgement("warranty", "cannot_tell", records, {
        facts,
        lacks: [lacking(say`the day its warranty ends`, ["cable", id])],
      }),
    ];
  }
  // What has run out binds nobody.
  return [judgement("warranty", until >= today ? "caution" : "fits", records, { facts })];
}
