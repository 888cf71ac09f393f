import { describe, expect, it } from "vitest";
import { filterJoins, splitterJoins, throughJoins } from "../../core/act/module-design.ts";
import { Refusal } from "../../core/result.ts";

const ports = (...positions: number[]) => positions.map((n) => ({ positions: n }));
/** Rear place and front place of each join, counted over all ports. */
const pairs = (joins: ReturnType<typeof throughJoins>, rear: readonly { positions: number }[], width: number) =>
  joins.map(({ from, to }) => [
    rear.slice(0, from.port).reduce((sum, port) => sum + port.positions, 0) + from.position,
    (to.port - rear.length) * width + to.position,
  ]);

describe("a cassette", () => {
  // TIA-568.3 array polarity: fibres 1..12 straight through, reversed to 12..1, or with neighbours swapped. From memory.
  it.each([
    ["straight", [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]],
    ["crossed", [2, 1, 4, 3, 6, 5, 8, 7, 10, 9, 12, 11]],
    ["reversed", [12, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1]],
  ] as const)("brings twelve fibres out %s", (map, out) => {
    const rear = ports(12);
    const joins = throughJoins(rear, ports(2, 2, 2, 2, 2, 2), map, null);
    expect(pairs(joins, rear, 2)).toEqual(out.map((place, i) => [i + 1, place]));
  });
  it("maps within each rear array when it has two", () => {
    const rear = ports(12, 12);
    const joins = throughJoins(rear, ports(...Array.from({ length: 12 }, () => 2)), "reversed", 0.35);
    const got = pairs(joins, rear, 2);
    expect(got[0]).toEqual([1, 12]);
    expect(got[11]).toEqual([12, 1]);
    expect(got[12]).toEqual([13, 24]);
    expect(got[23]).toEqual([24, 13]);
    expect(joins.every(({ loss_db }) => loss_db === 0.35)).toBe(true);
  });
  it("is refused with both counts when rear and front differ", () => {
    try {
      throughJoins(ports(12), ports(2, 2, 2, 2), "straight", null);
      expect.unreachable();
    } catch (error) {
      expect((error as Refusal).failure.message).toMatch(/12.*8/);
    }
  });
  it("takes listed pairs where some places stay unused, and refuses places it hasn't", () => {
    const joins = throughJoins(
      ports(12),
      ports(2),
      [
        [5, 1],
        [6, 2],
      ],
      [0.2, 0.3],
    );
    expect(joins.map(({ from, to, loss_db }) => [from.position, to.position, loss_db])).toEqual([
      [5, 1, 0.2],
      [6, 2, 0.3],
    ]);
    expect(() => throughJoins(ports(12), ports(2), [[13, 1]], null)).toThrow(Refusal);
    expect(() => throughJoins(ports(12), ports(2), [[1, 3]], null)).toThrow(Refusal);
  });
});

describe("a splitter and a filter", () => {
  it("joins each input to every output with the output's loss", () => {
    const joins = splitterJoins(ports(1, 1), ports(1, 1, 1), [10, 11, 12]);
    expect(joins.map(({ from, to, loss_db }) => [from.port, to.port, loss_db])).toEqual([
      [0, 2, 10],
      [0, 3, 11],
      [0, 4, 12],
      [1, 2, 10],
      [1, 3, 11],
      [1, 4, 12],
    ]);
  });
  it("refuses a list of losses that isn't as long as the outputs", () => {
    expect(() => splitterJoins(ports(1), ports(1, 1), [10])).toThrow(/1 loss for 2 outputs/);
  });
  it("joins the common port to each channel with its band", () => {
    const joins = filterJoins({ positions: 2 }, [
      { positions: 2, band: "1310", loss_db: 0.5 },
      { positions: 2, band: "1550", loss_db: null },
    ]);
    expect(joins.map(({ from, to, band }) => [from.position, to.port, to.position, band])).toEqual([
      [1, 1, 1, "1310"],
      [2, 1, 2, "1310"],
      [1, 2, 1, "1550"],
      [2, 2, 2, "1550"],
    ]);
    expect(() => filterJoins({ positions: 2 }, [{ positions: 1, band: "1310", loss_db: null }])).toThrow(Refusal);
  });
});
