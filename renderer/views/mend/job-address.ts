/** The act that makes a job of a way, filled with the cut as it was reckoned: so the numbers of the ways are the same. */
import type { MendWhole } from "../../../core/repair/answer.ts";
import { addressOf } from "../../frame/router.ts";

/** So long a temporary repair may stay, unless somebody says otherwise: a proposal in the form, no rule. */
const DAYS = 30;

export function jobAddress(
  { cable, cut }: MendWhole,
  way: number,
  dark: string | undefined,
  temporary = false,
): string {
  const until = new Date(Date.now() + DAYS * 86_400_000).toISOString().slice(0, 10);
  return addressOf("acts", {
    do: "job.plan_mend",
    cable: cable.tag,
    plan: String(way),
    // In a coil the mark alone says where it is.
    ...(cut.inside && cut.mark !== null
      ? { mark: String(cut.mark), lost_left_m: String(cut.lost_left_m), lost_right_m: String(cut.lost_right_m) }
      : cut.from_mouth_m === null
        ? { between: `${cut.after?.tag ?? ""}, ${cut.until?.tag ?? ""}` }
        : {
            ...(cut.after ? { after: cut.after.tag } : {}),
            metres: String(cut.from_mouth_m),
            lost_left_m: String(cut.lost_left_m),
            lost_right_m: String(cut.lost_right_m),
          }),
    ...(dark ? { dark } : {}),
    ...(temporary ? { replace_by: until } : {}),
  });
}
