/** Sun and water along a cable's legs and at its stops, rodents and lightning along its legs. */

import { say } from "../words/say.ts";
import type { Facts, FitCable, FitLeg, FitPathway, FitStop } from "./facts.ts";
import { type About, type Judgement, judgement, type Lack } from "./judgement.ts";
import { isExposed, type Lie, lieIn, lieOf } from "./where.ts";

/** The record a fact of the sheet would stand in. */
export const sheetRecord = ({ id, type_id }: Pick<FitCable, "id" | "type_id">): About =>
  type_id === null ? ["cable", id] : ["cable_type", type_id];

export const lacking = (what: string, of: About): Lack => ({ what, of });

export const lackingLength = ({ id, senseless_m }: Pick<FitPathway, "id" | "senseless_m">): Lack =>
  lacking(senseless_m === null ? say`its length` : say`its length (${senseless_m}\u202fm can't be)`, ["pathway", id]);

export function weather(facts: Facts, cable: FitCable): Judgement[] {
  return [
    ...cable.legs.flatMap((leg) => ofLeg(facts, cable, leg)),
    ...cable.stops.flatMap((stop) => ofStop(facts, cable, stop)),
  ];
}

function ofLeg(facts: Facts, cable: FitCable, leg: FitLeg): Judgement[] {
  const way = facts.pathways.get(leg.pathway_id ?? 0);
  const about: About[] = [["leg", leg.id], ...(way ? [["pathway", way.id] as const] : []), sheetRecord(cable)];
  if (!way) {
    return [judgement("outdoors", "cannot_tell", about, { lacks: [lacking(say`the pathway`, ["leg", leg.id])] })];
  }
  const where = { environment: way.environment, kind: way.kind };
  return [...lying(cable, lieOf(facts, way), about, ["pathway", way.id], where), ...animals(cable, leg, facts)];
}

function ofStop(facts: Facts, cable: FitCable, stop: FitStop): Judgement[] {
  const space = facts.spaces.get(stop.space_id ?? 0);
  const about: About[] = [["stop", stop.id], ...(space ? [["space", space.id] as const] : []), sheetRecord(cable)];
  if (!space) {
    // A stop that is only planned has no record that could say where it is.
    if (stop.id < 0) return [];
    return [judgement("outdoors", "cannot_tell", about, { lacks: [lacking(say`the place`, ["stop", stop.id])] })];
  }
  const lie = lieIn(space);
  // A dry room asks for nothing.
  if (lie.side === "indoors" && space.environment !== "damp") return [];
  const where = { environment: space.environment, kind: space.kind };
  return lying(cable, lie, about, ["space", space.id], where);
}

/** Sun and water where a cable lies in one way or place. */
function lying(
  { sheet, ...cable }: FitCable,
  { side, wet, sun }: Lie,
  about: readonly About[],
  place: About,
  where: Judgement["facts"],
): Judgement[] {
  const sheetOf = sheetRecord(cable);
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
  const noWhere = side === null ? [lacking(say`the environment`, place)] : [];
  const indoor = sheet.environment === "indoor";
  const wetOrOut = side === "outdoors" || wet === true;
  // A damp room is not a flooded pipe: indoor cable is often kept there, and somebody has to look.
  const dampRoom = side === "indoors" && place[0] === "space" && where.environment === "damp";
  if (indoor && wetOrOut) tell("outdoors", "does_not");
  else if (side === null || ((wetOrOut || dampRoom) && sheet.environment === null)) {
    tell("outdoors", "cannot_tell", [
      ...noWhere,
      ...(sheet.environment === null ? [lacking(say`what the cable is made for`, sheetOf)] : []),
    ]);
  } else tell("outdoors", indoor && dampRoom ? "caution" : "fits");
  // Made for indoors says it all: sun and water are the reasons, not further causes.
  if (!(indoor && wetOrOut)) {
    if (sun !== false && sheet.uv_resistant !== "yes" && !(side === null && sun === null)) {
      if (sun === true && sheet.uv_resistant === "no") tell("sun", "does_not");
      else {
        tell("sun", "cannot_tell", [
          ...(sun === null ? [lacking(say`whether the sun reaches it`, place)] : []),
          ...(sheet.uv_resistant === null ? [lacking(say`whether the sheath stands sun`, sheetOf)] : []),
        ]);
      }
    } else if (sun === true) tell("sun", "fits");
    if (wet === true && sheet.water_blocking === "none") tell("water", "does_not");
    else if (wet === true && sheet.water_blocking === null) {
      tell("water", "cannot_tell", [lacking(say`what keeps water out`, sheetOf)]);
    } else if (wet === true) tell("water", "fits");
  }
  return out;
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
      out.push(
        judgement("rodents", "cannot_tell", about, { ...told, lacks: [lacking(say`what armours it`, sheetOf)] }),
      );
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
  ...(cable.sheet.armour === null ? [lacking(say`what armours it`, sheetRecord(cable))] : []),
  ...(cable.sheet.metal === null ? [lacking(say`whether it has other metal`, sheetRecord(cable))] : []),
];
