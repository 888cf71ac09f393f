/** Sun, water, rodents and lightning along a cable's legs. */
import type { Facts, FitCable, FitLeg } from "./facts.ts";
import { type About, type Judgement, judgement, type Lack } from "./judgement.ts";
import { isExposed, lieOf } from "./where.ts";

/** The record a fact of the sheet would stand in. */
export const sheetRecord = ({ id, type_id }: FitCable): About =>
  type_id === null ? ["cable", id] : ["cable_type", type_id];

export const lacking = (what: string, of: About): Lack => ({ what, of });

export function weather(facts: Facts, cable: FitCable): Judgement[] {
  return cable.legs.flatMap((leg) => ofLeg(facts, cable, leg));
}

function ofLeg(facts: Facts, cable: FitCable, leg: FitLeg): Judgement[] {
  const { sheet } = cable;
  const way = facts.pathways.get(leg.pathway_id ?? 0);
  const sheetOf = sheetRecord(cable);
  const about: About[] = [["leg", leg.id], ...(way ? [["pathway", way.id] as const] : []), sheetOf];
  if (!way) {
    return [judgement("outdoors", "cannot_tell", about, { lacks: [lacking("the pathway", ["leg", leg.id])] })];
  }
  const { side, wet, sun } = lieOf(facts, way);
  const where = { environment: way.environment, kind: way.kind };
  const out: Judgement[] = [];
  const tell = (rule: "outdoors" | "sun" | "water", verdict: Judgement["verdict"], lacks: Lack[] = []) =>
    out.push(
      judgement(rule, verdict, about, {
        facts: {
          ...where,
          made_for: sheet.environment,
          uv_resistant: sheet.uv_resistant,
          water_blocking: sheet.water_blocking,
        },
        lacks,
      }),
    );
  const noWhere = side === null ? [lacking("the environment", ["pathway", way.id])] : [];
  const indoor = sheet.environment === "indoor";
  const wetOrOut = side === "outdoors" || wet === true;
  if (indoor && wetOrOut) tell("outdoors", "does_not");
  else if (side === null || (wetOrOut && sheet.environment === null)) {
    tell("outdoors", "cannot_tell", [
      ...noWhere,
      ...(sheet.environment === null ? [lacking("what the cable is made for", sheetOf)] : []),
    ]);
  } else tell("outdoors", "fits");
  // Made for indoors says it all: sun and water are the reasons, not further causes.
  if (!(indoor && wetOrOut)) {
    if (sun !== false && sheet.uv_resistant !== "yes" && !(side === null && sun === null)) {
      if (sun === true && sheet.uv_resistant === "no") tell("sun", "does_not");
      else {
        tell("sun", "cannot_tell", [
          ...(sun === null ? [lacking("whether the sun reaches it", ["pathway", way.id])] : []),
          ...(sheet.uv_resistant === null ? [lacking("whether the sheath stands sun", sheetOf)] : []),
        ]);
      }
    } else if (sun === true) tell("sun", "fits");
    if (wet === true && sheet.water_blocking === "none") tell("water", "does_not");
    else if (wet === true && sheet.water_blocking === null) {
      tell("water", "cannot_tell", [lacking("what keeps water out", sheetOf)]);
    } else if (wet === true) tell("water", "fits");
  }
  return [...out, ...animals(cable, leg, facts)];
}

function animals(cable: FitCable, leg: FitLeg, facts: Facts): Judgement[] {
  const { sheet } = cable;
  const way = facts.pathways.get(leg.pathway_id ?? 0);
  if (!way) return [];
  const sheetOf = sheetRecord(cable);
  const about: About[] = [["leg", leg.id], ["pathway", way.id], sheetOf];
  const out: Judgement[] = [];
  if (isExposed(way, "rodents")) {
    const told = { facts: { armour: sheet.armour } };
    if (sheet.armour === null) {
      out.push(judgement("rodents", "cannot_tell", about, { ...told, lacks: [lacking("what armours it", sheetOf)] }));
    } else out.push(judgement("rodents", sheet.armour === "none" ? "does_not" : "fits", about, told));
  }
  if (isExposed(way, "lightning")) {
    const metal = metalOf(cable);
    out.push(
      judgement("lightning", metal === "unknown" ? "cannot_tell" : metal === "none" ? "fits" : "caution", about, {
        facts: { armour: sheet.armour, metal: sheet.metal },
        lacks: metal === "unknown" ? metalLacks(cable) : [],
      }),
    );
  }
  return out;
}

/** Whether a cable has metallic members from end to end. */
export function metalOf({ sheet }: Pick<FitCable, "sheet">): "metallic" | "none" | "unknown" {
  if (sheet.armour === "metallic" || sheet.metal === "yes") return "metallic";
  return sheet.armour === null || sheet.metal === null ? "unknown" : "none";
}

export const metalLacks = (cable: FitCable): Lack[] => [
  ...(cable.sheet.armour === null ? [lacking("what armours it", sheetRecord(cable))] : []),
  ...(cable.sheet.metal === null ? [lacking("whether it has other metal", sheetRecord(cable))] : []),
];
