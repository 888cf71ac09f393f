/** Limits as fitness uses them: where the plant's own value makes no sense the published one stands, and says so. */
import type { Limits as InUse, LimitInUse } from "../standards/limits/in-use.ts";
import { limitsInUse } from "../standards/limits/in-use.ts";
import { PUBLISHED } from "../standards/limits/published.ts";
import type { Reader } from "../store/handle.ts";
import { say } from "../words/say.ts";

export interface Limits extends InUse {
  /** The plant's own record of a tag, where its value can't be and is not used. */
  senseless(tag: string): LimitInUse | undefined;
}

/** What nothing can be held to at 0; metres indoors, cover and what is added to an order may be none. */
const ABOVE_ZERO = /^(fill|bend|weight|pull)\.|^jam\.(from|to)$/;

const makesSense = ({ tag, value, own }: LimitInUse): boolean =>
  !own || ((ABOVE_ZERO.test(tag) ? value > 0 : value >= 0) && !(tag.startsWith("fill.") && value > 1));

/** "-1 m", as the plant has it on record. */
export const saidOf = ({ value, unit }: LimitInUse): string => (unit ? `${value} ${unit}` : String(value));

/** The published value, which names the plant's own that it stands for; none where nobody publishes one. */
function inPlaceOf(own: LimitInUse): LimitInUse | undefined {
  const known = PUBLISHED.find(({ tag }) => tag === own.tag);
  return (
    known && {
      ...known,
      source: say`in place of the plant's own ${saidOf(own)}, which can't be: ${known.source}`,
      own: false,
      record: own.record,
      published: null,
      reason: null,
    }
  );
}

/** Reads the limits that fitness is judged by. */
export async function fitnessLimits(reader: Reader): Promise<Limits> {
  const limits = await limitsInUse(reader);
  const get = (tag: string): LimitInUse | undefined => {
    const limit = limits.get(tag);
    return limit && !makesSense(limit) ? inPlaceOf(limit) : limit;
  };
  return {
    ...limits,
    get,
    first: (...tags) => tags.map(get).find((limit) => limit?.own) ?? tags.map(get).find((limit) => limit !== undefined),
    under: (beginning) => limits.under(beginning).flatMap(({ tag }) => get(tag) ?? []),
    senseless: (tag) => {
      const limit = limits.get(tag);
      return limit && !makesSense(limit) ? limit : undefined;
    },
  };
}
