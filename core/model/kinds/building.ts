import { integer, number, shape, tag, text } from "../field.ts";
import { defineKind, physical, provenance } from "../kind.ts";

export const building = defineKind({
  name: "building",
  one: "building",
  many: "buildings",
  group: "places",
  help: "A structure on the campus.",
  address: { parents: [], separator: "", name: "tag" },
  key: ["tag"],
  unique: true,
  fields: {
    tag: tag("The short name people use, such as LIB."),
    name: text("name", "The full name."),
    use: text("use", "What the building is for."),
    longitude: number("longitude", "WGS 84 longitude of the building.", { unit: "deg", min: -180, max: 180 }),
    latitude: number("latitude", "WGS 84 latitude of the building.", { unit: "deg", min: -90, max: 90 }),
    outline: shape("polygon", "outline", "The footprint as longitude and latitude pairs."),
    entrances: text("entrances", "Where cables enter, in words.", { max: 1000, lines: true }),
    ways_wanted: integer("ways in wanted", "How many separate ways in this building should have.", { min: 0, max: 9 }),
    ...physical,
    ...provenance,
  },
});
