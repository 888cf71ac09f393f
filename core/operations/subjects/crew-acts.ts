/** Acts that sheets and notes are understood as, tried out in order and carried out as one change. */
import type { z } from "zod";
import type { PlanAct } from "../../as-built/carry.ts";
import { loadPlantGlass } from "../../glass/plant-glass.ts";
import type { Tried } from "../../store/trial.ts";
import type { LongContext, WriteContext, WriteOperation } from "../define.ts";
import { decode } from "../dispatch.ts";
import { circuitAssign, circuitEnter } from "./acts-circuit.ts";
import { closureEnter, panelEnter } from "./acts-equipment.ts";
import { spliceClose, spliceRange, spliceSwap, strandLand } from "./acts-glass.ts";
import { labelSight, labelWrite, labelWriteDue } from "./acts-label.ts";
import { cordPatch } from "./acts-patching.ts";
import { cableAddStop, cableEnter, cableOpen } from "./cables.ts";
import { measurementRead } from "./measurements.ts";
import { recordAdd, recordChangeMany, recordEdit } from "./record-changes.ts";

const ACTS = [
  ...[
    cableEnter,
    cableAddStop,
    cableOpen,
    panelEnter,
    closureEnter,
    strandLand,
    spliceRange,
    spliceClose,
    spliceSwap,
    cordPatch,
  ],
  ...[
    circuitAssign,
    circuitEnter,
    labelWrite,
    labelWriteDue,
    labelSight,
    measurementRead,
    recordAdd,
    recordEdit,
    recordChangeMany,
  ],
] as readonly unknown[] as readonly WriteOperation<string, z.ZodType, unknown>[];

/** Tries what `work` takes up; nothing is written. */
export function tryActs<A>(
  context: LongContext,
  work: (plan: PlanAct, trial: Parameters<PlanAct>[0], revision: number) => Promise<A>,
): Promise<Tried<A>> {
  const { gateway } = context;
  return gateway.tryOut(async (trial) => {
    const { reader } = trial;
    const own: WriteContext = {
      ...context,
      reader,
      // The plant's glass in memory is of what is on record, and must stay so: what is tried reads its own.
      heldGlass: async () => null,
      glass: () => loadPlantGlass(reader, async () => {}),
      newIds: (kind, count) => gateway.newIds(reader, kind, count),
    };
    const plan: PlanAct = async (_, { name, input }) => {
      const operation = ACTS.find((one) => one.name === name);
      if (!operation) throw new Error(`no act is named ${name}`);
      return operation.plan(own, decode(operation.input, input, name));
    };
    return work(plan, trial, await gateway.revision(reader));
  });
}
