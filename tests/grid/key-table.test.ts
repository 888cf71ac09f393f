/** One table of keys: what hears them, what shows them and what offers their acts agree. */
import { describe, expect, it } from "vitest";
import { actFor, KEY_TABLE, keysFor } from "../../renderer/frame/key-table.ts";
import { actNamed, moving } from "../../renderer/grid/keys.ts";

const extent = { rows: 10, filled: 9, columns: 4, page: 5 };
const place = { spot: { row: 2, column: 1 }, anchor: { row: 2, column: 1 } };
const press = (keys: string) => {
  const parts = keys.split(" ");
  return {
    key: parts.at(-1) ?? "",
    ctrl: parts.includes("Ctrl"),
    shift: parts.includes("Shift"),
    alt: parts.includes("Alt"),
    composing: false,
  };
};

describe("the table of keys", () => {
  it("gives no key to two acts of one part of the window, nor of a part and the whole", () => {
    for (const { group, keys, act } of KEY_TABLE)
      for (const one of keys) {
        const same = KEY_TABLE.filter(
          (row) =>
            row.keys.includes(one) && (row.group === group || (group === "A table" && row.group === "Everywhere")),
        );
        // Enter begins editing and ends it; both are its meaning, at different times.
        const acts = new Set(same.map((row) => row.act));
        if (one !== "Enter") expect([...acts], `${one} in ${group}`).toEqual([act]);
      }
  });

  it("names no bare letter or digit", () => {
    for (const { keys } of KEY_TABLE) for (const one of keys) expect(one).not.toMatch(/^[A-Za-z0-9]$/);
  });

  it.each(KEY_TABLE.filter(({ group, offered }) => group === "A table" && offered))(
    "$act is done by each of its keys, and by its name alike",
    ({ act, keys }) => {
      const named = actNamed(act, place, extent);
      expect(named).not.toBeNull();
      for (const one of keys) expect(moving(press(one), place, extent)).toEqual(named);
    },
  );

  it("knows a key from one that only looks like it", () => {
    expect(actFor("A table", press("Ctrl d"))).toBe("fill_down");
    expect(actFor("A table", press("Ctrl Shift D"))).toBe("count_on");
    expect(actFor("A table", press("Ctrl Alt d"))).toBeNull();
    expect(actFor("Everywhere", press("Ctrl d"))).toBeNull();
    expect(keysFor("A table", "fill_down")).toBe("Ctrl D");
  });
});
