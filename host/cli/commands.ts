/** Every command, in the order of the help. */

import type { Command } from "./command.ts";
import { asOfCommand } from "./commands-as-of.ts";
import { checkCommand, feedsCommand, findCommand, traceCommand } from "./commands-ask.ts";
import { associateCommand } from "./commands-associate.ts";
import { attachCommand, attachmentsCommand } from "./commands-attach.ts";
import { breakoutCommand } from "./commands-breakout.ts";
import { coilsCommand } from "./commands-coils.ts";
import { compareCommand } from "./commands-compare.ts";
import { editionCommand } from "./commands-edition.ts";
import { exportCommand, importCommand } from "./commands-exchange.ts";
import { backupCommand, generateCommand, newCommand, sampleCommand, statusCommand } from "./commands-file.ts";
import { fitnessCommand } from "./commands-fitness.ts";
import { freePairCommand } from "./commands-free-pair.ts";
import { historyCommand, redoCommand, undoCommand } from "./commands-history.ts";
import { impactCommand } from "./commands-impact.ts";
import { jobCommand } from "./commands-job.ts";
import { labelsCommand } from "./commands-labels.ts";
import { lossCommand } from "./commands-light.ts";
import { listCommand, showCommand } from "./commands-list.ts";
import { locateCommand } from "./commands-locate.ts";
import { mapCommand, mapExportCommand } from "./commands-map.ts";
import { mendCommand } from "./commands-mend.ts";
import { mergeCommand } from "./commands-merge.ts";
import { messagesCommand } from "./commands-messages.ts";
import { operationsCommand, runCommand } from "./commands-operations.ts";
import { cableSheetCommand, faceCommand, holeCardCommand, spliceSheetCommand } from "./commands-papers.ts";
import { planCommand } from "./commands-plan.ts";
import { notesCommand, sheetCommand } from "./commands-sheet.ts";

export const COMMANDS: readonly Command[] = [
  sampleCommand,
  generateCommand,
  newCommand,
  statusCommand,
  backupCommand,
  importCommand,
  exportCommand,
  sheetCommand,
  notesCommand,
  mapCommand,
  mapExportCommand,
  attachCommand,
  attachmentsCommand,
  findCommand,
  traceCommand,
  feedsCommand,
  lossCommand,
  editionCommand,
  locateCommand,
  mendCommand,
  coilsCommand,
  breakoutCommand,
  jobCommand,
  labelsCommand,
  spliceSheetCommand,
  holeCardCommand,
  faceCommand,
  cableSheetCommand,
  fitnessCommand,
  planCommand,
  impactCommand,
  freePairCommand,
  checkCommand,
  listCommand,
  showCommand,
  historyCommand,
  compareCommand,
  asOfCommand,
  mergeCommand,
  undoCommand,
  redoCommand,
  associateCommand,
  messagesCommand,
  operationsCommand,
  runCommand,
];
