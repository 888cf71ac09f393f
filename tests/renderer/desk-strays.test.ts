/** Whether another window may be about to name a sheet that lies on the desk. */
import { describe, expect, it } from "vitest";
import { isOnlyWindow } from "../../renderer/frame/desk-strays.ts";

const lock = (name: string, clientId: string): LockInfo => ({ name, clientId, mode: "exclusive" });
const only = (held: LockInfo[], pending: LockInfo[] = []) => isOnlyWindow({ held, pending }, "typed.", "typed.mine");

describe("a window", () => {
  it("is the only one where every lock of a window is its own, also of those that ended before it", () => {
    expect(only([lock("typed.mine", "a"), lock("typed.ended", "a"), lock("else", "b")])).toBe(true);
  });

  it("isn't where another holds a lock of its own, or waits for one", () => {
    expect(only([lock("typed.mine", "a"), lock("typed.other", "b")])).toBe(false);
    expect(only([lock("typed.mine", "a")], [lock("typed.other", "b")])).toBe(false);
  });

  it("doesn't know before it holds its own", () => {
    expect(only([], [lock("typed.mine", "a")])).toBe(false);
  });
});
