/** Columns come from the dictionary alone. */
import { expect, it } from "vitest";
import { KIND_NAMES, KINDS } from "../../core/model/dictionary.ts";
import { GRID_COLUMNS, KIND_GROUPS } from "../../renderer/grid/columns.ts";

it("gives every field of every kind one column, the name before what is told of it", () => {
  for (const kind of KIND_NAMES) {
    const ids = GRID_COLUMNS[kind].map((column) => column.id);
    expect(ids.toSorted()).toEqual(Object.keys(KINDS[kind].fields).toSorted());
    const address = KINDS[kind].address as { name: string; parents: readonly string[] } | null;
    if (!address) continue;
    // A number stands behind what it is a number of; a tag stands first.
    const expected = address.name === "tag" ? ["tag"] : [...address.parents, address.name];
    expect(ids.slice(0, expected.length).toSorted()).toEqual(expected.toSorted());
    expect(ids[expected.length - 1]).toBe(address.name);
  }
});

it("shows something of every kind at first, and room for its label", () => {
  for (const kind of KIND_NAMES) {
    expect(GRID_COLUMNS[kind].filter((column) => column.shown).length).toBeGreaterThan(0);
    for (const column of GRID_COLUMNS[kind]) expect(column.width).toBeGreaterThan(column.field.label.length * 6);
  }
});

it("has every kind in one group of the index", () => {
  expect(KIND_GROUPS.flatMap((group) => group.kinds).toSorted()).toEqual([...KIND_NAMES].toSorted());
});
