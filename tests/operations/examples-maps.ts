/** Examples of maps read and drawn, and of files kept with records. */
import { expect } from "vitest";
import type { Example } from "./example.ts";

const hole = JSON.stringify({
  ...{ type: "Feature", properties: { tag: "HH-71", kind: "hand_hole" } },
  geometry: { type: "Point", coordinates: [-38.6, 41.9] },
});

export const MAP_EXAMPLES: readonly Example[] = [
  {
    name: "campus.plan",
    input: { of: ["F-070"] },
    refused: { input: { of: ["F-999"] }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ asked: [{ legs: [{ way: { tag: "TR-10" } }] }] }),
  },
  {
    name: "campus.print",
    input: {},
    refused: { input: { of: ["F-999"] }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ paper: "document" }),
  },
  {
    name: "map.rehearse",
    input: { text: hole },
    refused: { input: { text: "{}" }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ totals: { new: 1 }, form: "GeoJSON" }),
  },
  {
    name: "map.import",
    input: { text: hole },
    refused: { input: { text: hole, digest: "another" }, code: "stale" },
  },
  {
    name: "map.export",
    input: {},
    refused: { input: { nonsense: 1 }, code: "bad_input" },
    check: (value) => expect(value).toMatchObject({ collection: { type: "FeatureCollection" } }),
  },
  {
    name: "attachment.add",
    input: { of: "MH-03", name: "note.txt", content: btoa("the lid is cracked") },
    refused: { input: { of: "MH-03", name: "lid.jpg", content: btoa("<html>") }, code: "file" },
  },
  {
    name: "attachment.list",
    input: { of: "MH-03" },
    refused: { input: { of: "MH-99" }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ record: { tag: "MH-03" }, attached: [] }),
  },
  {
    name: "attachment.content",
    input: { id: 1 },
    refused: { input: { id: 99 }, code: "not_found" },
    check: (value) => expect(value).toMatchObject({ name: "drawing.txt", picture: false }),
  },
];
