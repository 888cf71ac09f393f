import { say } from "../../words/say.ts";
import { integer, number, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const building = defineKind({
  name: "building",
  one: say`building`,
  many: say`buildings`,
  group: "places",
  help: say`A structure on the campus.`,
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag(say`The short name people use, such as LIB.`),
    name: text(say`name`, say`The full name.`),
    use: text(say`use`, say`What the building is for.`),
    longitude: number(say`longitude`, say`WGS 84 longitude of the building.`, { unit: "deg", min: -180, max: 180 }),
    latitude: number(say`latitude`, say`WGS 84 latitude of the building.`, { unit: "deg", min: -90, max: 90 }),
    outline: shape("polygon", say`outline`, say`The footprint as longitude and latitude pairs.`),
    entrances: text(say`entrances`, say`Where cables enter, in words.`, { max: 1000, lines: true }),
    ways_wanted: integer(say`ways in wanted`, say`How many separate ways in this building should have.`, {
      min: 0,
      max: 9,
    }),
    ...physical,
    ...provenance,
  },
});
