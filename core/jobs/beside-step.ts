/** A stop of its own beside a case or panel, at which the remain of a cut cable will end; what stands there stays as it is. */
import { atPanel, type CourseStop } from "../repair/course.ts";
import type { RecordRef } from "../trace/answer.ts";
import { say } from "../words/say.ts";
import type { PlannedStep } from "./step.ts";

interface Beside {
  readonly cable: RecordRef;
  /** The order of the stop after which it stands. */
  readonly after: number;
  readonly place: RecordRef | null;
  /** The place in words. */
  readonly name: string;
  /** The remain comes from the first stop. */
  readonly left: boolean;
  /**
   * The mark at the mouth it stands before. Until the end is brought there nothing lies coiled at it: both its mouths see
   * that mark.
   */
  readonly mark: number | null;
  /** The stop beside which it stands. */
  readonly stop: CourseStop | undefined;
}

export function besideStep({ cable, after, place, name, left, mark, stop }: Beside): PlannedStep {
  return {
    act: "cable.add_stop",
    input: {
      cable: cable.tag,
      after,
      space: place?.tag ?? null,
      storage: "coil",
      ...(mark === null ? {} : { mark_in: mark, mark_out: mark, marks_basis: "computed" }),
      ...(left ? { way_in: {} } : { way_on: {} }),
    },
    words:
      stop !== undefined && atPanel(stop)
        ? say`Record that ${cable.tag} will end beside the panel at ${name}, in a case of its own; what stands in the panel stays as it is`
        : say`Record that ${cable.tag} will end beside the case at ${name}, in a case of its own; what stands in the case stays as it is`,
    place,
  };
}
