/** Glass beyond the cut that leads nowhere any more, stretch by stretch, and whether it can be used from its other side. */
import { shortRange } from "../act/numbering.ts";
import { sectionEnd } from "../glass/end.ts";
import { glassAround } from "../glass/line-glass.ts";
import { formatLength } from "../model/units.ts";
import type { Reader } from "../store/handle.ts";
import type { Cables } from "../trace/cables.ts";
import { placeOf } from "../trace/places.ts";
import { plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { Beyond, CutPlace, Half } from "./answer.ts";
import type { StrandHere } from "./strands.ts";

export interface BeyondAsked {
  readonly cable: { readonly id: number; readonly tag: string };
  readonly stop: { readonly id: number; readonly place: string };
  readonly cut: Pick<CutPlace, "stub_a" | "stub_z">;
  readonly today: string;
  readonly cables: Cables;
}

/** What the half on one side of newly cut strands becomes; what was cut before is no news. */
export async function beyondOf(
  reader: Reader,
  strands: readonly StrandHere[],
  half: Half,
  asked: BeyondAsked,
): Promise<Beyond[]> {
  const { cable, stop, cut, cables } = asked;
  const whole = strands.flatMap(({ through, number }) => (through ? [{ through, number }] : []));
  const side = half === "a" ? "A" : "B";
  const glass = await glassAround(
    reader,
    whole.map(({ through }) => sectionEnd(through.id, side)),
    asked.today,
  );
  const farStop = ({ through }: (typeof whole)[number]): number | null =>
    half === "a" ? through.a_stop_id : through.b_stop_id;
  return [...Map.groupBy(whole, farStop)].map(([far, own]): Beyond => {
    const to = placeOf(cables.spaces.get(cables.stops.get(far ?? 0)?.space_id ?? 0)).space;
    const { length_m } = cables.lengthOf(cable.id, far, stop.id);
    const stub = half === "a" ? cut.stub_a : cut.stub_z;
    const joined = own.filter(({ through }) => glass.first(sectionEnd(through.id, side)) >= 0).length;
    const numbers = own.map(({ number }) => number).sort((a, b) => a - b);
    const range = `${cable.tag}:${shortRange(numbers)}`;
    const long = length_m === null ? "" : say`, ${formatLength(length_m, "m", 1)} of sheath`;
    const use =
      stub === "yes"
        ? say`with a stub at ${stop.place}, so free from ${to?.tag ?? say`its other end`}`
        : stub === "no"
          ? say`without a stub at ${stop.place}: it can't be used from ${to?.tag ?? say`its other end`} before more sheath is opened`
          : say`whether a stub is left at ${stop.place} is to be looked at`;
    return {
      strands: range,
      to,
      length_m,
      stub,
      joined,
      words: plural(
        numbers.length,
        "{1} goes dead between {2} and {3}{4}{5}, {6}",
        "{1} go dead between {2} and {3}{4}{5}, {6}",
        range,
        stop.place,
        to?.tag ?? say`a place not known`,
        long,
        joined > 0 ? say`, with what is joined to it there` : "",
        use,
      ),
    };
  });
}
