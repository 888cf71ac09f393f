/** What a step's act may take otherwise than planned, and how it is asked: losses of splices, marks that were read. */

import type { JobStepShown } from "../../../core/jobs/show.ts";
import { isKindName, kindOf } from "../../../core/model/dictionary.ts";
import { say } from "../../../core/words/say.ts";

export interface Asked {
  readonly name: string;
  readonly label: string;
  /** What stands in the plan. */
  readonly planned?: string;
  /** So many numbers, one for each of what the act does; true where nobody counts them beforehand. */
  readonly list?: number | true;
  /** Without it the step isn't done. */
  readonly required?: boolean;
  /** One of these, by the stored value. */
  readonly choices?: Readonly<Record<string, string>>;
}

type Values = Readonly<Record<string, unknown>>;

const inputOf = ({ input }: JobStepShown): Values =>
  typeof input === "object" && input !== null ? (input as Values) : {};

/** `F-012:1-12,20` is 13 strands; null where a range can't be counted. */
function counted(range: unknown): number | null {
  if (typeof range !== "string") return null;
  const list = range.slice(range.lastIndexOf(":") + 1);
  let sum = 0;
  for (const part of list.split(",")) {
    const [, from, to] = /^(\d+)(?:-(\d+))?$/.exec(part.trim()) ?? [];
    if (from === undefined) return null;
    sum += to === undefined ? 1 : Number(to) - Number(from) + 1;
  }
  return sum;
}

export function askedOf(step: JobStepShown): Asked[] {
  const input = inputOf(step);
  if (step.act === "splice.close" || step.act === "splice.range") {
    const strands = counted(input.strands ?? input.from);
    const many = strands === null ? "" : say`; one for all, or ${strands} in order`;
    return [
      {
        name: "loss_ab_db",
        label: say`Loss of each splice, dB${many}`,
        ...(strands === null ? {} : { list: strands }),
      },
      {
        name: "loss_ba_db",
        label: say`The same measured from the other direction, dB; left out, the first is kept as the splicer's estimate`,
        ...(strands === null ? {} : { list: strands }),
      },
    ];
  }
  if (step.act === "cable.replace") {
    return [
      {
        name: "loss_db",
        label: say`Loss of each new joint, dB; one for all, or one a joint in the order of its sheet`,
        list: true,
      },
    ];
  }
  if (step.act === "cable.dead_length" && input.became === "$asked") {
    const choices = { left: say`left where it lies`, pulled_out: say`pulled out` };
    return [{ name: "became", label: say`What became of it`, required: true, choices }];
  }
  const values = input.values as Values | undefined;
  if (step.act === "record.edit" && typeof input.kind === "string" && isKindName(input.kind)) {
    const { fields } = kindOf(input.kind);
    return Object.entries(values ?? {}).flatMap(([name, value]): Asked[] => {
      const field = fields[name];
      if (value !== "$asked" || !field) return [];
      const label = `${field.label.charAt(0).toUpperCase()}${field.label.slice(1)}`;
      return [{ name, label, required: true, ...(field.type === "choice" ? { choices: field.values } : {}) }];
    });
  }
  return [];
}

/** The numbers in the form the act takes them. */
export function otherwiseOf(
  step: JobStepShown,
  read: Readonly<Record<string, number | number[] | string>>,
): Record<string, unknown> {
  if (Object.keys(read).length === 0) return {};
  if (step.act === "cable.dead_length") return { ...read };
  return step.act === "record.edit"
    ? { values: read }
    : { ...read, loss_basis: "loss_ba_db" in read ? "both_ways" : "estimate" };
}
