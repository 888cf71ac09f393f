/** Cables as built: entering one whole, its stops, opening it and recording a cut. */
import { cableEnterInput, planCableEnter } from "../../act/cable-enter.ts";
import { cableOpenInput, planCableOpen } from "../../act/cable-open.ts";
import { cableSeverInput, planCableSever } from "../../act/cable-sever.ts";
import {
  cableAddStopInput,
  cableRemoveStopInput,
  planCableAddStop,
  planCableRemoveStop,
} from "../../act/cable-stop-add.ts";
import { defineWrite } from "../define.ts";

export const cableEnter = defineWrite({
  name: "cable.enter",
  help: "Enters a cable from its type: its units, strands and glass, its stops with their marks, and the ways between.",
  input: cableEnterInput,
  plan: planCableEnter,
});

export const cableAddStop = defineWrite({
  name: "cable.add_stop",
  help: "Puts a stop between two others of a cable.",
  input: cableAddStopInput,
  plan: planCableAddStop,
});

export const cableRemoveStop = defineWrite({
  name: "cable.remove_stop",
  help: "Takes a stop out of a cable where nothing is cut; the ways before and after become one.",
  input: cableRemoveStopInput,
  plan: planCableRemoveStop,
});

export const cableOpen = defineWrite({
  name: "cable.open",
  help: "Opens a cable at a stop and cuts chosen strands there; all others run on.",
  input: cableOpenInput,
  plan: planCableOpen,
});

export const cableSever = defineWrite({
  name: "cable.sever",
  help: "Records that a cable was cut, at a stop or between two: all its strands or those named.",
  input: cableSeverInput,
  plan: planCableSever,
});
