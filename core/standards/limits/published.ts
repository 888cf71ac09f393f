/** Every published value, by tag. A new list is added here. */
import { ACCEPTANCE_LIMITS } from "./acceptance.ts";
import { APPLICATION_LIMITS, WAVELENGTH_LIMITS } from "./applications.ts";
import { BREAKOUT_LIMITS } from "./breakout.ts";
import { FITNESS_LIMITS } from "./fitness.ts";
import { GLASS_LIMITS } from "./glass.ts";
import { JOINT_LIMITS } from "./joints.ts";
import { LABEL_LIMITS } from "./labels.ts";
import { LOCATE_LIMITS } from "./locate.ts";
import { POLICY_LIMITS } from "./policies.ts";
import type { PublishedLimit } from "./published-limit.ts";
import { REPAIR_LIMITS } from "./repair.ts";

export const PUBLISHED: readonly PublishedLimit[] = [
  ...GLASS_LIMITS,
  ...JOINT_LIMITS,
  ...ACCEPTANCE_LIMITS,
  ...APPLICATION_LIMITS,
  ...WAVELENGTH_LIMITS,
  ...LOCATE_LIMITS,
  ...FITNESS_LIMITS,
  ...REPAIR_LIMITS,
  ...BREAKOUT_LIMITS,
  ...LABEL_LIMITS,
  ...POLICY_LIMITS,
];
