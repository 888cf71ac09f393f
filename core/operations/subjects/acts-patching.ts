/** Cords, and what was seen in front of ports. */
import { patchInput, planPatch } from "../../act/patch.ts";
import { planSightFront, sightFrontInput } from "../../act/sight-front.ts";
import { planUnplug, unplugInput } from "../../act/unplug.ts";
import { say } from "../../words/say.ts";
import { defineWrite } from "../define.ts";

export const cordPatch = defineWrite({
  name: "cord.patch",
  help: say`Plugs a cord from one port into another.`,
  input: patchInput,
  plan: planPatch,
});

export const cordUnplug = defineWrite({
  name: "cord.unplug",
  help: say`Unplugs cords, at both ends or at one.`,
  input: unplugInput,
  plan: planUnplug,
});

export const portSightFront = defineWrite({
  name: "port.sight_front",
  help: say`Notes what was seen in front of ports: a cord, or nothing.`,
  input: sightFrontInput,
  plan: planSightFront,
});
