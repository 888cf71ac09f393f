/** Every act, in the order in which work is done. */

import { say } from "../../../core/words/say.ts";
import type { Act } from "../act.ts";
import { planBreakout, planClosing } from "./breakout.ts";
import { closeGap, moveCut } from "./cable-cuts.ts";
import {
  addStop,
  carryCable,
  deadLength,
  dividePathway,
  enterCable,
  openCable,
  removeStop,
  replaceCable,
  replaceEnd,
  severCable,
} from "./cables.ts";
import { assign, enterCircuit, planWay, release } from "./circuits.ts";
import {
  attenuator,
  cassette,
  closure,
  closureLost,
  device,
  filter,
  harness,
  move,
  panel,
  ports,
  positions,
  renumber,
  splitter,
} from "./equipment.ts";
import { close, land, reopen, splice, swap } from "./glass.ts";
import { abandon, planCase, planLasting, planMend, planMends } from "./jobs.ts";
import { relabel, sight, write, writeDue } from "./labels.ts";
import { readMeter, readTrace } from "./measured.ts";
import { patch, sightFront, unplug } from "./patching.ts";

export const ACT_GROUPS: readonly { readonly title: string; readonly acts: readonly Act[] }[] = [
  {
    title: say`Cable`,
    acts: [
      enterCable,
      openCable,
      addStop,
      removeStop,
      severCable,
      moveCut,
      closeGap,
      replaceCable,
      deadLength,
      replaceEnd,
      carryCable,
      dividePathway,
    ],
  },
  { title: say`Glass`, acts: [closure, closureLost, splice, close, reopen, swap, land] },
  {
    title: say`Panels and modules`,
    acts: [panel, ports, positions, renumber, cassette, harness, splitter, filter, attenuator],
  },
  { title: say`Patching`, acts: [patch, unplug, sightFront, device, move] },
  { title: say`Service`, acts: [enterCircuit, planWay, assign, release] },
  { title: say`Measurements`, acts: [readMeter, readTrace] },
  { title: say`Jobs`, acts: [planMend, planCase, planLasting, planMends, planBreakout, planClosing, abandon] },
  { title: say`Labels`, acts: [write, writeDue, sight, relabel] },
];

export const ACTS: readonly Act[] = ACT_GROUPS.flatMap((group) => group.acts);
export const actNamed = (name: string): Act | undefined => ACTS.find((act) => act.name === name);
