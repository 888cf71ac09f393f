/**
 * Orders of stops while new cable takes the place of sheaths that don't reach into a new case: as they are on record, once a
 * stop of its own stands beside each case or panel where one is spliced on, and once what lies between has gone.
 */
import { isBeside, landsAnew } from "../repair/case-piece.ts";
import type { CasePiecePlanned } from "./case-planned.ts";

export interface CaseOrders {
  /** Of a stop on record once the stops beside cases and panels are there, and nothing has gone yet. */
  now(cable_id: number, ordinal: number): number;
  /** The same once all is done. */
  after(cable_id: number, ordinal: number): number;
  /** Of the stop at which new cable is spliced to the old, at those two moments. */
  pieceNow(piece: CasePiecePlanned): number;
  pieceAfter(piece: CasePiecePlanned): number;
  /** Of the stop at the wrecked case while only the sheath on its other side has been brought elsewhere. */
  cutBetween(cable_id: number): number;
  /** New cable takes the place of all of it, up to each of its ends. */
  whole(cable_id: number): boolean;
  /** The piece for the other side of the same cable. */
  other(piece: CasePiecePlanned): CasePiecePlanned | undefined;
}

interface OfCable {
  readonly left: CasePiecePlanned | undefined;
  readonly right: CasePiecePlanned | undefined;
}

const ofBoth = ({ left, right }: OfCable): CasePiecePlanned[] => [left, right].flatMap((one) => one ?? []);

export function caseOrders(planned: readonly CasePiecePlanned[]): CaseOrders {
  const cables = new Map(
    [...Map.groupBy(planned, ({ arm }) => arm.cable.id)].map(([cable_id, own]): [number, OfCable] => {
      const of = (side: "left" | "right") => own.find(({ arm }) => arm.side === side);
      return [cable_id, { left: of("left"), right: of("right") }];
    }),
  );
  const of = (cable_id: number): OfCable => cables.get(cable_id) ?? { left: undefined, right: undefined };
  const beside = (one: CasePiecePlanned | undefined): boolean => one !== undefined && isBeside(one.piece);
  const now = (cable_id: number, ordinal: number): number => {
    const { left, right } = of(cable_id);
    const added = [
      beside(left) && ordinal > (left?.ordinal ?? 0),
      beside(right) && ordinal >= (right?.ordinal ?? 0),
    ].filter(Boolean).length;
    return ordinal + added;
  };
  const pieceNow = (one: CasePiecePlanned): number => {
    const own = now(one.arm.cable.id, one.ordinal);
    if (!isBeside(one.piece)) return own;
    return one.arm.side === "left" ? own + 1 : own - 1;
  };
  const whole = (cable_id: number): boolean => {
    const own = ofBoth(of(cable_id));
    const [first] = own;
    return first !== undefined && own.every(({ piece }) => landsAnew(piece)) && (first.arm.alone || own.length === 2);
  };
  /** Of orders as they are now, those between which nothing of the cable is left; one that is given up whole stays on record. */
  const gap = (cable_id: number): { readonly from: number; readonly to: number } => {
    const { left, right } = of(cable_id);
    const [first] = ofBoth({ left, right });
    if (!first || whole(cable_id)) return { from: 0, to: 0 };
    const end = now(cable_id, first.arm.end.ordinal);
    const [before, beyond] = first.arm.alone ? [0, Number.POSITIVE_INFINITY] : [end, end];
    return {
      from: left ? (landsAnew(left.piece) ? 0 : pieceNow(left)) : before,
      to: right ? (landsAnew(right.piece) ? Number.POSITIVE_INFINITY : pieceNow(right)) : beyond,
    };
  };
  const goes = (cable_id: number, order: number): number => {
    const { from, to } = gap(cable_id);
    return order - Math.max(0, Math.min(order, to) - from - 1);
  };
  return {
    now,
    pieceNow,
    after: (cable_id, ordinal) => goes(cable_id, now(cable_id, ordinal)),
    pieceAfter: (one) => goes(one.arm.cable.id, pieceNow(one)),
    cutBetween: (cable_id) => {
      const { left, right } = of(cable_id);
      if (left && !landsAnew(left.piece)) return pieceNow(left) + 1;
      return now(cable_id, (left ?? right)?.arm.end.ordinal ?? 0);
    },
    whole,
    other: ({ arm }) => of(arm.cable.id)[arm.side === "left" ? "right" : "left"],
  };
}
