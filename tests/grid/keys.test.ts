/**
 * The grid's keys. What each key must do is read from the WAI-ARIA Authoring Practices, Grid Pattern (data grids), and for
 * filling, typing over and going on while editing from spreadsheet habit (common practice, no source).
 */
import { describe, expect, it } from "vitest";
import { blockOf, editing, type KeyPress, moving, onHead, onward, type Spot } from "../../renderer/grid/keys.ts";

const extent = { rows: 100, columns: 5, page: 20 };
const at = (row: number, column: number, anchor?: Spot) => ({
  spot: { row, column },
  anchor: anchor ?? { row, column },
});
const press = (text: string): KeyPress => {
  const parts = text.split("+");
  return {
    key: parts.at(-1) || "+",
    ctrl: parts.includes("Ctrl"),
    shift: parts.includes("Shift"),
    alt: parts.includes("Alt"),
    composing: false,
  };
};
const goes = (key: string, row: number, column: number) => {
  const command = moving(press(key), at(row, column), extent);
  return command?.do === "go" ? [command.to.row, command.to.column] : command;
};

describe("a block to the end of the table", () => {
  const made = { ...extent, rows: 100, filled: 99 };
  const end = (key: string, row: number) => {
    const command = moving(press(key), at(row, 1), made);
    return command?.do === "go" ? command.to.row : command;
  };
  it("leaves out the empty row, to which one goes to make a new record", () => {
    expect(end("Ctrl+Shift+ArrowDown", 3)).toBe(98);
    expect(end("Ctrl+Shift+End", 3)).toBe(98);
    expect(end("Ctrl+ArrowDown", 3)).toBe(99);
    expect(end("Ctrl+Shift+ArrowDown", 99)).toBe(99);
  });
});

describe("moving about", () => {
  it.each([
    ["ArrowDown", [4, 2]],
    ["ArrowUp", [2, 2]],
    ["ArrowRight", [3, 3]],
    ["ArrowLeft", [3, 1]],
    ["Home", [3, 0]],
    ["End", [3, 4]],
    ["Ctrl+Home", [0, 0]],
    ["Ctrl+End", [99, 4]],
    ["PageDown", [23, 2]],
    ["PageUp", [0, 2]],
    ["Ctrl+ArrowDown", [99, 2]],
  ])("%s goes to %j", (key, to) => expect(goes(key, 3, 2)).toEqual(to));

  it.each([
    ["ArrowRight", 3, 4],
    ["ArrowLeft", 3, 0],
    ["ArrowUp", 0, 2],
    ["ArrowDown", 99, 2],
  ])("%s at the edge stays, for a grid does not wrap", (key, row, column) =>
    expect(goes(key, row, column)).toEqual([row, column]),
  );

  it("leaves Tab to the page, so that the grid is one stop", () => {
    expect(moving(press("Tab"), at(3, 2), extent)).toBeNull();
    expect(moving(press("Shift+Tab"), at(3, 2), extent)).toBeNull();
  });

  it("leaves the window's own keys to the window", () => {
    for (const key of [
      "Ctrl+k",
      "Ctrl+z",
      "Ctrl+y",
      "Alt+1",
      "Alt+ArrowLeft",
      "F1",
      "F6",
      "Ctrl+p",
      "Ctrl+c",
      "Ctrl+v",
    ])
      expect(moving(press(key), at(3, 2), extent)).toBeNull();
  });

  it("grows the block from its anchor with Shift", () => {
    const command = moving(press("Shift+ArrowDown"), at(3, 2), extent);
    expect(command).toEqual({ do: "go", to: { row: 4, column: 2 }, extend: true });
    expect(blockOf({ spot: { row: 2, column: 4 }, anchor: { row: 5, column: 1 } })).toEqual({
      top: 2,
      bottom: 5,
      left: 1,
      right: 4,
    });
  });

  it("selects the row with Shift+Space, the column with Ctrl+Space, all with Ctrl+A", () => {
    const corners = (key: string) => {
      const command = moving(press(key), at(3, 2), extent);
      return command?.do === "select" ? [command.from, command.to] : null;
    };
    expect(corners("Shift+ ")).toEqual([
      { row: 3, column: 0 },
      { row: 3, column: 4 },
    ]);
    expect(corners("Ctrl+ ")).toEqual([
      { row: 0, column: 2 },
      { row: 99, column: 2 },
    ]);
    expect(corners("Ctrl+a")).toEqual([
      { row: 0, column: 0 },
      { row: 99, column: 4 },
    ]);
  });
});

describe("beginning to edit", () => {
  it("types over with a printable character, also one beyond the basic plane", () => {
    expect(moving(press("7"), at(3, 2), extent)).toEqual({ do: "edit", text: "7" });
    expect(moving(press("𝛼"), at(3, 2), extent)).toEqual({ do: "edit", text: "𝛼" });
    expect(moving(press("F"), at(3, 2), extent)).toEqual({ do: "edit", text: "F" });
  });

  it.each(["F2", "Enter"])("%s keeps what is there", (key) =>
    expect(moving(press(key), at(3, 2), extent)).toEqual({ do: "edit", text: null }),
  );

  it("does nothing while an input method composes", () => {
    expect(moving({ ...press("a"), composing: true }, at(3, 2), extent)).toBeNull();
    expect(editing({ ...press("Enter"), composing: true })).toBeNull();
  });
});

describe("editing", () => {
  it.each([
    ["Enter", { do: "keep", after: "down" }],
    ["Shift+Enter", { do: "keep", after: "up" }],
    ["Tab", { do: "keep", after: "right" }],
    ["Shift+Tab", { do: "keep", after: "left" }],
    ["Ctrl+Enter", { do: "keep", after: "stay" }],
    ["F2", { do: "keep", after: "stay" }],
    ["Escape", { do: "abandon" }],
  ])("%s does %j", (key, command) => expect(editing(press(key))).toEqual(command));

  it.each(["ArrowLeft", "ArrowDown", "Home", "End", "Delete", "Backspace", "a", "Ctrl+d", "Ctrl+c"])(
    "leaves %s to the field",
    (key) => expect(editing(press(key))).toBeNull(),
  );
});

it("acts on a block: Ctrl+D fills down, Delete clears, Ctrl+Delete deletes rows", () => {
  expect(moving(press("Ctrl+d"), at(3, 2), extent)).toEqual({ do: "fill_down" });
  expect(moving(press("Delete"), at(3, 2), extent)).toEqual({ do: "clear" });
  expect(moving(press("Ctrl+Delete"), at(3, 2), extent)).toEqual({ do: "delete_rows" });
});

it("has no key to press in a table without rows", () => {
  expect(moving(press("ArrowDown"), at(0, 0), { rows: 0, columns: 5, page: 20 })).toBeNull();
});

it("goes on to the neighbour after keeping, and stops at the edge", () => {
  expect(onward({ row: 3, column: 4 }, "right", extent)).toEqual({ row: 3, column: 4 });
  expect(onward({ row: 3, column: 4 }, "down", extent)).toEqual({ row: 4, column: 4 });
});

describe("on a column's head", () => {
  const withHead = { ...extent, head: true };
  const spot = { row: -1, column: 2 };

  it("is reached by going up from the first row", () =>
    expect(moving(press("ArrowUp"), at(0, 2), withHead)).toEqual({ do: "go", to: spot, extend: false }));

  it.each([
    ["ArrowDown", { do: "go", to: { row: 0, column: 2 } }],
    ["ArrowLeft", { do: "go", to: { row: -1, column: 1 } }],
    ["Enter", { do: "sort", also: false }],
    ["Shift+Enter", { do: "sort", also: true }],
    ["Ctrl+ArrowRight", { do: "widen", by: 16 }],
    ["Ctrl+Shift+ArrowLeft", { do: "shift", by: -1 }],
    ["F", { do: "filter", text: "F" }],
    ["F2", { do: "filter", text: null }],
    ["Ctrl+End", { do: "go", to: { row: 99, column: 4 } }],
    ["Ctrl+Shift+L", { do: "ask", what: "columns" }],
    ["Ctrl+Shift+G", { do: "ask", what: "views" }],
    ["Ctrl+Shift+X", { do: "ask", what: "write_file" }],
    ["Ctrl+h", { do: "ask", what: "replace" }],
  ])("%s does %j", (key, command) => expect(onHead(press(key), spot, withHead)).toEqual(command));

  it("leaves Tab and the window's keys to the page", () => {
    for (const key of ["Tab", "Ctrl+k", "Ctrl+z", "Alt+ArrowLeft", "F6"])
      expect(onHead(press(key), spot, withHead)).toBeNull();
  });
});
