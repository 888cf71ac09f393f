import { describe, expect, it } from "vitest";
import { Adjacency } from "../../core/glass/adjacency.ts";
import { mapped } from "../../core/glass/cord-map.ts";
import { positionEnd, sectionEnd } from "../../core/glass/end.ts";
import { CORD, JOIN, jointsAt, SPLICE } from "../../core/glass/glass.ts";
import { MOST_STEPS, walk } from "../../core/glass/walk.ts";

/** Glass by hand: each pair joined both ways. */
function glassOf(...pairs: readonly [a: number, b: number, kind?: number][]): Adjacency {
  const glass = new Adjacency();
  for (const [index, [a, b, kind = SPLICE]] of pairs.entries()) {
    glass.add(a, b, kind, index + 1);
    if (a !== b && b !== 0) glass.add(b, a, kind, index + 1);
  }
  return glass;
}
const A = (section: number) => sectionEnd(section, "A");
const B = (section: number) => sectionEnd(section, "B");
const front = (position: number) => positionEnd(position, "front");
const back = (position: number) => positionEnd(position, "back");
/** Ends arrived at, branch by branch. */
const paths = (done: ReturnType<typeof walk>) =>
  done.leaves().map((leaf) => [...done.pathTo(leaf).map((step) => done.to[step]), done.stop[leaf]]);

describe("a straight line", () => {
  const glass = glassOf([B(1), A(2)], [B(2), B(3)]);
  it("is followed through each piece of glass to where nothing is joined", () => {
    expect(paths(walk(glass, B(1)))).toEqual([[A(2), B(3), "end"]]);
  });
  it("from its far end is the same line reversed", () => {
    expect(paths(walk(glass, B(3)))).toEqual([[B(2), B(1), "end"]]);
  });
  it("has no step where nothing is joined at the start", () => {
    const done = walk(glass, A(1));
    expect([done.steps, done.stopAtStart, done.isStraight]).toEqual([0, "end", true]);
  });
});

describe("two cords on one front", () => {
  const glass = glassOf([front(1), front(2), CORD], [front(1), front(3), CORD]);
  it("are a fork seen from behind it", () => {
    const done = walk(glass, front(1));
    expect(done.forks).toEqual([-1]);
    expect(paths(done)).toEqual([
      [front(2), "end"],
      [front(3), "end"],
    ]);
  });
  it("are none seen from one of the cords: light never leaves by the side it came in by", () => {
    expect(paths(walk(glass, front(2)))).toEqual([[front(1), "end"]]);
  });
});

describe("glass in a circle", () => {
  it("is a ring that closes at the start", () => {
    const done = walk(glassOf([B(1), A(2)], [B(2), A(3)], [B(3), A(1)]), B(1));
    expect(paths(done)).toEqual([[A(2), A(3), A(1), "ring"]]);
  });
  it("is a ring where it first meets itself, when a line leads into it", () => {
    // 1 leads to 2; 2, 3, 4 lie in a circle.
    const glass = glassOf([B(1), A(2)], [B(2), A(3)], [B(3), A(4)], [B(4), A(2)]);
    expect(paths(walk(glass, B(1)))).toEqual([[A(2), A(3), A(4), A(2), "ring"]]);
  });
  it("ends at once when an end is joined to itself", () => {
    expect(paths(walk(glassOf([B(1), B(1)]), B(1)))).toEqual([[B(1), "ring"]]);
  });
  it("ends when both ends of one section are joined", () => {
    expect(paths(walk(glassOf([A(1), B(1)]), B(1)))).toEqual([[A(1), "ring"]]);
  });
  it("is cut where light is thrown back over the way it came", () => {
    expect(paths(walk(glassOf([B(1), A(2)], [B(2), A(3)], [B(3), B(3)]), B(1)))).toEqual([[A(2), A(3), B(3), "ring"]]);
  });
  it("of any length ends", () => {
    const pairs = Array.from({ length: 5000 }, (_, i) => [B(i + 1), A(((i + 1) % 5000) + 1)] as [number, number]);
    const done = walk(glassOf([B(9000), A(17)], ...pairs), B(9000));
    expect([done.steps, done.lastStop]).toEqual([5001, "ring"]);
  });
});

describe("forks", () => {
  it("keep going in each branch, in order of their records", () => {
    const glass = glassOf([back(1), back(3), JOIN], [back(1), back(2), JOIN], [front(3), front(4), CORD]);
    expect(paths(walk(glass, back(1)))).toEqual([
      [back(3), front(4), "end"],
      [back(2), "end"],
    ]);
  });
  it("that come together again are followed to the end by each way", () => {
    const glass = glassOf([B(1), A(2)], [B(1), A(3)], [B(2), A(4)], [B(3), A(4)]);
    expect(paths(walk(glass, B(1)))).toEqual([
      [A(2), A(4), "end"],
      [A(3), A(4), "end"],
    ]);
  });
  it("may lead back into a ring by one branch and on by another", () => {
    const glass = glassOf([B(1), A(2)], [B(2), A(3)], [B(2), A(1)]);
    expect(paths(walk(glass, B(1)))).toEqual([
      [A(2), A(3), "end"],
      [A(2), A(1), "ring"],
    ]);
  });
  it("so many that all ways were millions are shown once each, and it ends", () => {
    const pairs: [number, number][] = [];
    // A chain of forks that each come together again: two to the power of forty ways.
    for (let n = 0; n < 40; n += 1) {
      const [one, up, down, next] = [3 * n + 1, 3 * n + 2, 3 * n + 3, 3 * n + 4];
      pairs.push([B(one), A(up)], [B(one), A(down)], [B(up), A(next)], [B(down), A(next)]);
    }
    const done = walk(glassOf(...pairs), B(1));
    expect(done.steps).toBeLessThan(MOST_STEPS);
    expect(done.leaves().map((leaf) => done.stop[leaf])).toEqual(["end", ...Array(40).fill("again")]);
  });
  it("one behind the other without end are cut with a word", () => {
    const pairs: [number, number][] = [];
    for (let n = 1; n <= 400; n += 1) pairs.push([B(n), A(n + 1)], [B(n), A(n + 1000)]);
    const done = walk(glassOf(...pairs), B(1));
    expect(done.leaves().map((leaf) => done.stop[leaf])).toContain("unshown");
  });
});

describe("glass behind the start", () => {
  it("is not passed: a line told from its other end meets it as a ring", () => {
    const glass = glassOf([B(1), A(2)], [B(2), A(3)]);
    expect(paths(walk(glass, B(1), [A(3) >> 1]))).toEqual([[A(2), A(3), "ring"]]);
  });
});

describe("a cord that hangs loose", () => {
  it("is a step that leads nowhere", () => {
    expect(paths(walk(glassOf([front(1), 0, CORD]), front(1)))).toEqual([[0, "end"]]);
  });
});

describe("maps of cords", () => {
  it("go straight, cross pairs or reverse", () => {
    const all = (map: "straight" | "crossed" | "reversed", n: number) =>
      Array.from({ length: n }, (_, i) => mapped(map, i + 1, n));
    expect(all("straight", 4)).toEqual([1, 2, 3, 4]);
    expect(all("crossed", 4)).toEqual([2, 1, 4, 3]);
    expect(all("reversed", 4)).toEqual([4, 3, 2, 1]);
    expect(all("crossed", 3)).toEqual([2, 1, 3]);
  });
  it("are each their own inverse", () => {
    for (const map of ["straight", "crossed", "reversed"] as const) {
      for (const n of [1, 2, 3, 8, 12, 24]) {
        for (let i = 1; i <= n; i += 1) expect(mapped(map, mapped(map, i, n), n)).toBe(i);
      }
    }
  });
});

describe("joints at an end", () => {
  it("are told in one order, whatever order they were read in", () => {
    const glass = new Adjacency();
    glass.add(B(1), A(9), SPLICE, 7);
    glass.add(B(1), back(4), 1, 2);
    glass.add(B(1), A(3), SPLICE, 5);
    expect(jointsAt(glass, B(1))).toEqual([
      { to: A(3), kind: "splice", id: 5 },
      { to: A(9), kind: "splice", id: 7 },
      { to: back(4), kind: "termination", id: 2 },
    ]);
  });
});
