/** Every operation, once. Transports, client, help and tests derive from this list. */
import type { z } from "zod";
import type { LongOperation, ReadOperation, WriteOperation, Written } from "./define.ts";
import type { AnyOperation } from "./dispatch.ts";
import { circuitAssign, circuitEnter, circuitRelease } from "./subjects/acts-circuit.ts";
import {
  closureEnter,
  closureLost,
  deviceEnter,
  deviceMove,
  moduleEnter,
  panelEnter,
  panelRenumber,
  portAddPositions,
  portEnter,
} from "./subjects/acts-equipment.ts";
import { spliceClose, spliceRange, spliceReopen, spliceSwap, strandLand } from "./subjects/acts-glass.ts";
import { labelRelabel, labelSight, labelWrite, labelWriteDue } from "./subjects/acts-label.ts";
import { cordPatch, cordUnplug, portSightFront } from "./subjects/acts-patching.ts";
import { addressFind, addressResolve } from "./subjects/addresses.ts";
import { attachmentAdd, attachmentContent, attachmentList } from "./subjects/attachments.ts";
import {
  breakoutClosing,
  breakoutPlaces,
  breakoutPlans,
  jobPlanBreakout,
  jobPlanClosing,
} from "./subjects/breakout.ts";
import { cableShow } from "./subjects/cable-show.ts";
import {
  cableAddStop,
  cableCarry,
  cableCloseGap,
  cableDeadLength,
  cableEnter,
  cableMoveCut,
  cableOpen,
  cableRemoveStop,
  cableReplace,
  cableReplaceEnd,
  cableSever,
  pathwayDivide,
} from "./subjects/cables.ts";
import { campusPrint, campusShow } from "./subjects/campus.ts";
import { checkReport, checkRules, checkRun } from "./subjects/checks.ts";
import { coilsStudy } from "./subjects/coils.ts";
import { deskKeep, deskList, deskOpen, deskThrowAway } from "./subjects/desk.ts";
import { exceptionAccept, exceptionWithdraw, signOffMake } from "./subjects/exceptions.ts";
import { exchangeExport, exchangeImport, exchangeRehearse } from "./subjects/exchange.ts";
import { feedsOf } from "./subjects/feeds.ts";
import { fitnessOf, fitnessWouldFit } from "./subjects/fitness.ts";
import { freePairFind, freePairPlan } from "./subjects/free-pair.ts";
import { glassColours } from "./subjects/glass-colours.ts";
import {
  historyAsOf,
  historyCompare,
  historyList,
  historyPeople,
  historyRedo,
  historyShow,
  historyUndo,
} from "./subjects/history.ts";
import { impactDiverse, impactOf, impactWaysIn } from "./subjects/impact.ts";
import {
  jobAbandon,
  jobDo,
  jobEnter,
  jobList,
  jobPacket,
  jobPlanCase,
  jobPlanLasting,
  jobPlanMend,
  jobPlanMends,
  jobPrint,
  jobShow,
  jobTemporary,
} from "./subjects/jobs.ts";
import {
  labelLay,
  labelList,
  labelOutline,
  labelPrint,
  labelPrinted,
  labelSheets,
  labelWordings,
} from "./subjects/labels.ts";
import { lightCircuits, lightLoss } from "./subjects/light.ts";
import { locateOf } from "./subjects/locate.ts";
import { mapExport, mapImport, mapRehearse } from "./subjects/maps.ts";
import { measurementRead, measurementReadEvents } from "./subjects/measurements.ts";
import { mendCase, mendPlans, mendSeveral } from "./subjects/mend.ts";
import { mergeApply, mergeCompare } from "./subjects/merge.ts";
import { notesApply, notesRehearse } from "./subjects/notes.ts";
import {
  paperCableSheet,
  paperFeedSheet,
  paperHoleCard,
  paperPanelFace,
  paperReport,
  paperSpliceSheet,
  paperSpliceTable,
  paperTable,
  paperTraceSheet,
} from "./subjects/papers.ts";
import { pathwayShow } from "./subjects/pathway.ts";
import { plantBackup, plantRead, plantStatus, plantSummary } from "./subjects/plant.ts";
import { recordAdd, recordChangeMany, recordEdit, recordRemove } from "./subjects/record-changes.ts";
import {
  recordChosen,
  recordFindRow,
  recordPageRead,
  recordResting,
  recordValues,
  recordWindow,
} from "./subjects/records.ts";
import { runEnter, runOffers, runRehearse } from "./subjects/runs.ts";
import { sheetApply, sheetRead, sheetRehearse } from "./subjects/sheets.ts";
import { standardsColours, standardsLimits } from "./subjects/standards.ts";
import { traceWalk } from "./subjects/trace.ts";

export const OPERATIONS = [
  traceWalk,
  feedsOf,
  impactOf,
  impactWaysIn,
  impactDiverse,
  freePairFind,
  freePairPlan,
  fitnessOf,
  fitnessWouldFit,
  lightLoss,
  lightCircuits,
  locateOf,
  mendPlans,
  mendCase,
  coilsStudy,
  mendSeveral,
  breakoutPlans,
  breakoutPlaces,
  breakoutClosing,
  jobPlanBreakout,
  jobPlanClosing,
  jobList,
  jobShow,
  jobTemporary,
  jobPacket,
  jobPrint,
  jobEnter,
  jobPlanMend,
  jobPlanCase,
  jobPlanLasting,
  jobPlanMends,
  jobDo,
  jobAbandon,
  plantRead,
  plantStatus,
  plantBackup,
  plantSummary,
  recordWindow,
  recordFindRow,
  recordChosen,
  recordValues,
  recordPageRead,
  recordResting,
  recordAdd,
  recordEdit,
  recordRemove,
  recordChangeMany,
  attachmentAdd,
  attachmentList,
  attachmentContent,
  historyList,
  historyPeople,
  historyShow,
  historyCompare,
  historyAsOf,
  historyUndo,
  historyRedo,
  mergeCompare,
  mergeApply,
  panelEnter,
  panelRenumber,
  portAddPositions,
  portEnter,
  deviceEnter,
  deviceMove,
  closureEnter,
  closureLost,
  moduleEnter,
  strandLand,
  spliceRange,
  spliceClose,
  spliceReopen,
  spliceSwap,
  measurementRead,
  measurementReadEvents,
  cordPatch,
  cordUnplug,
  portSightFront,
  circuitEnter,
  circuitAssign,
  circuitRelease,
  labelWrite,
  labelWriteDue,
  labelSight,
  labelRelabel,
  labelList,
  labelWordings,
  labelSheets,
  labelLay,
  labelPrint,
  labelOutline,
  labelPrinted,
  addressFind,
  addressResolve,
  cableShow,
  pathwayShow,
  campusShow,
  campusPrint,
  cableEnter,
  cableAddStop,
  cableRemoveStop,
  cableOpen,
  cableSever,
  cableCloseGap,
  cableMoveCut,
  cableReplace,
  cableReplaceEnd,
  cableCarry,
  cableDeadLength,
  pathwayDivide,
  standardsColours,
  standardsLimits,
  glassColours,
  checkRun,
  checkRules,
  checkReport,
  exceptionAccept,
  exceptionWithdraw,
  signOffMake,
  exchangeExport,
  exchangeRehearse,
  exchangeImport,
  sheetRead,
  sheetRehearse,
  sheetApply,
  mapRehearse,
  mapImport,
  mapExport,
  notesRehearse,
  notesApply,
  runOffers,
  runRehearse,
  runEnter,
  deskList,
  deskOpen,
  deskKeep,
  deskThrowAway,
  paperSpliceSheet,
  paperSpliceTable,
  paperHoleCard,
  paperPanelFace,
  paperTraceSheet,
  paperFeedSheet,
  paperCableSheet,
  paperReport,
  paperTable,
] as const satisfies readonly AnyOperation[];

type Listed = (typeof OPERATIONS)[number];
export type OperationName = Listed["name"];
type Named<N extends OperationName> = Extract<Listed, { readonly name: N }>;
export type InputOf<N extends OperationName> = z.input<Named<N>["input"]>;
export type AnswerOf<N extends OperationName> =
  Named<N> extends WriteOperation<string, z.ZodType, infer O>
    ? Written<O>
    : Named<N> extends ReadOperation<string, z.ZodType, infer O>
      ? O
      : Named<N> extends LongOperation<string, z.ZodType, infer O>
        ? O
        : never;
