/** What joins what inside a passive unit. Pure: ports by their place in a list, positions by their order from 1. */
import { type CordMap, mapped } from "../glass/cord-map.ts";
import { type Problem, refuse } from "../result.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";

export interface Through {
  /** Index of the port in the unit's list, and the position's order in it. */
  readonly port: number;
  readonly position: number;
}
export interface Joined {
  readonly from: Through;
  readonly to: Through;
  readonly band: string | null;
  readonly loss_db: number | null;
}

interface Sized {
  readonly positions: number;
}

/** Every position of some ports in order, with the index their first port has in the unit. */
const placesOf = (ports: readonly Sized[], offset: number): Through[] =>
  ports.flatMap(({ positions }, i) =>
    Array.from({ length: positions }, (_, k) => ({ port: offset + i, position: k + 1 })),
  );

/** The loss of each of `n` joins: one value for all, or a list as long as the joins. */
export function lossesFor(
  given: number | readonly number[] | null | undefined,
  n: number,
  what: string,
): (number | null)[] {
  if (typeof given === "number") return Array.from({ length: n }, () => given);
  if (!given) return Array.from({ length: n }, () => null);
  if (given.length !== n) {
    refuse("bad_input", say`${counted(given.length, "loss", "losses")} for ${n} ${what}.`, [
      { field: "loss_db", reason: say`lists ${given.length}; ${n} are needed, or one value for all` },
    ]);
  }
  return [...given];
}

/**
 * A cassette or harness: the fibres of its rear arrays, in order, come out at its fronts. The map holds within each
 * rear port, since each array is turned by itself; `pairs` lists rear and front places where no map describes it.
 */
export function throughJoins(
  rear: readonly Sized[],
  front: readonly Sized[],
  map: CordMap | readonly (readonly [number, number])[],
  loss: number | readonly number[] | null | undefined,
): Joined[] {
  const inner = placesOf(rear, 0);
  const outer = placesOf(front, rear.length);
  const pairs: (readonly [number, number])[] = [];
  if (typeof map === "string") {
    if (inner.length !== outer.length) {
      refuse(
        "bad_input",
        say`There are ${counted(inner.length, "position")} at the rear, but ${outer.length} in front.`,
        [
          { field: "rear", reason: say`has ${counted(inner.length, "position")}` },
          {
            field: "front",
            reason: say`has ${counted(outer.length, "position")}; list the pairs where some stay unused`,
          },
        ],
      );
    }
    let done = 0;
    for (const { positions } of rear) {
      for (let i = 1; i <= positions; i++) pairs.push([done + i, done + mapped(map, i, positions)]);
      done += positions;
    }
  } else {
    pairs.push(...map);
    const problems: Problem[] = pairs.flatMap(([a, b], i) => [
      ...(inner[a - 1] ? [] : [{ row: i + 1, field: "map", reason: say`rear place ${a} is beyond ${inner.length}` }]),
      ...(outer[b - 1] ? [] : [{ row: i + 1, field: "map", reason: say`front place ${b} is beyond ${outer.length}` }]),
    ]);
    if (problems.length > 0)
      refuse("bad_input", say`The list of pairs names places the module doesn't have.`, problems);
  }
  const losses = lossesFor(loss, pairs.length, "joins");
  return pairs.map(([a, b], i) => ({
    from: inner[a - 1] as Through,
    to: outer[b - 1] as Through,
    band: null,
    loss_db: losses[i] ?? null,
  }));
}

/** A splitter: each input to every output. One loss for all, or one an output. */
export function splitterJoins(
  inputs: readonly Sized[],
  outputs: readonly Sized[],
  loss: number | readonly number[] | null | undefined,
): Joined[] {
  const ins = placesOf(inputs, 0);
  const outs = placesOf(outputs, inputs.length);
  const losses = lossesFor(loss, outs.length, "outputs");
  return ins.flatMap((from) => outs.map((to, i) => ({ from, to, band: null, loss_db: losses[i] ?? null })));
}

/** A wavelength filter: the common port to each channel, which passes its band only. */
export function filterJoins(
  common: Sized,
  channels: readonly (Sized & { readonly band: string; readonly loss_db: number | null })[],
): Joined[] {
  const problems = channels.flatMap(({ positions }, i) =>
    positions === common.positions
      ? []
      : [
          {
            row: i + 1,
            field: "channels",
            reason: say`has ${counted(positions, "position")}, the common port ${common.positions}`,
          },
        ],
  );
  if (problems.length > 0) refuse("bad_input", say`A channel doesn't have the positions of the common port.`, problems);
  return channels.flatMap(({ band, loss_db }, i) =>
    Array.from({ length: common.positions }, (_, k) => ({
      from: { port: 0, position: k + 1 },
      to: { port: 1 + i, position: k + 1 },
      band,
      loss_db,
    })),
  );
}
