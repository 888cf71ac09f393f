/** Circuits and the glass they are given. */
import { circuitAssignInput, planCircuitAssign } from "../../act/circuit-assign.ts";
import { circuitEnterInput, planCircuitEnter } from "../../act/circuit-enter.ts";
import { circuitReleaseInput, planCircuitRelease } from "../../act/circuit-release.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

export const circuitEnter = defineWrite({
  name: "circuit.enter",
  help: say`Enters a circuit with its ports, parties and what it rides on.`,
  input: circuitEnterInput,
  plan: planCircuitEnter,
});

export const circuitAssign = defineWrite({
  name: "circuit.assign",
  help: say`Gives a circuit every strand section on the way of what is named, in order from A to Z.`,
  input: circuitAssignInput,
  plan: planCircuitAssign,
});

export const circuitRelease = defineWrite({
  name: "circuit.release",
  help: say`Ends a circuit's hold on its glass, all of it or some strands.`,
  input: circuitReleaseInput,
  plan: planCircuitRelease,
});
