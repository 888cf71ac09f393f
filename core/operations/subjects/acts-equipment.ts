/** Entering what glass lands on and plugs into: panels, devices, closures, modules; renumbering and moving them. */
import { closureEnterInput, planClosureEnter } from "../../act/closure-enter.ts";
import { closureLostInput, planClosureLost } from "../../act/closure-lost.ts";
import { deviceEnterInput, planDeviceEnter } from "../../act/device-enter.ts";
import { deviceMoveInput, planDeviceMove } from "../../act/device-move.ts";
import { moduleEnterInput, planModuleEnter } from "../../act/module-enter.ts";
import { panelEnterInput, planPanelEnter } from "../../act/panel-enter.ts";
import { planPortsEnter, portsEnterInput } from "../../act/ports-enter.ts";
import { planPositionsAdd, positionsAddInput } from "../../act/positions-add.ts";
import { planRenumber, renumberInput } from "../../act/renumber.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

export const panelEnter = defineWrite({
  name: "panel.enter",
  help: say`Enters a panel with its ports and positions, numbered by a pattern such as 01..24.`,
  input: panelEnterInput,
  plan: planPanelEnter,
});

export const portEnter = defineWrite({
  name: "port.enter",
  help: say`Puts further ports, with their positions, on a panel, module or device, numbered by a pattern such as 25..36.`,
  input: portsEnterInput,
  plan: planPortsEnter,
});

export const portAddPositions = defineWrite({
  name: "port.add_positions",
  help: say`Gives ports that have no positions theirs: as many as their plugs say, or as many as are given.`,
  input: positionsAddInput,
  plan: planPositionsAdd,
});

export const panelRenumber = defineWrite({
  name: "panel.renumber",
  help: say`Renumbers a panel or its ports; old numbers stay findable and labels become due.`,
  input: renumberInput,
  plan: planRenumber,
});

export const deviceEnter = defineWrite({
  name: "device.enter",
  help: say`Enters a device with its ports and what their optics send and bear.`,
  input: deviceEnterInput,
  plan: planDeviceEnter,
});

export const deviceMove = defineWrite({
  name: "device.move",
  help: say`Moves a device; each of its cords goes along, is unplugged, or is repatched.`,
  input: deviceMoveInput,
  plan: planDeviceMove,
});

export const closureLost = defineWrite({
  name: "closure.lost",
  help: say`Records that a splice case was wrecked with all glass in it: its splices are taken off, what runs through it is severed there, and the case is gone.`,
  input: closureLostInput,
  plan: planClosureLost,
});

export const closureEnter = defineWrite({
  name: "closure.enter",
  help: say`Enters a closure with its splice trays.`,
  input: closureEnterInput,
  plan: planClosureEnter,
});

export const moduleEnter = defineWrite({
  name: "module.enter",
  help: say`Enters a cassette, harness, splitter, filter or attenuator with its ports and the glass inside.`,
  input: moduleEnterInput,
  plan: planModuleEnter,
});
