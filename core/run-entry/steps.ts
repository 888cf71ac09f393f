/** A typed run said in acts, in the order in which each rests on those before it, each with the field it comes from. */
import type { Act } from "../as-built/shape.ts";
import { escapeName } from "../model/address.ts";
import { say } from "../words/say.ts";
import { given, type RunReading } from "./read.ts";
import type { ToMake } from "./typed.ts";

export interface Step {
  /** Where it was typed: `cable`, `stops.1.cut`, `make.0`, `landings.0`, `splices.2`, `labels`. */
  readonly at: string;
  readonly act: Act;
  /** The typed field of a field of the act, where they aren't named alike. */
  readonly fields?: Readonly<Record<string, string>>;
}

export async function stepsOf(reading: RunReading): Promise<Step[]> {
  const cable = await reading.cable();
  if (cable === null) return [];
  const { run } = reading;
  const landings = await landed(reading);
  const splices = await spliced(reading);
  return [
    // A case is there before the cable that enters it.
    ...run.make.map((one, i): Step => ({ at: `make.${i}`, act: making(reading, one, i) })),
    { at: "cable", act: cable },
    ...opened(reading),
    ...landings,
    ...splices,
    ...(run.labels
      ? [
          {
            at: "labels",
            act: {
              name: "label.write_due",
              input: { cable: reading.tag, ...given({ printed_on: reading.day(run.printed_on, "printed_on") }) },
            },
          },
        ]
      : []),
  ];
}

const strandsOf = ({ tag }: RunReading, text: string): string =>
  text.includes(":") ? text.trim() : `${escapeName(tag, "")}:${text.trim()}`;

function opened(reading: RunReading): Step[] {
  return reading.stops.flatMap(({ index, typed, closure }): Step[] => {
    if (typed.cut.trim() === "") return [];
    const input = { cable: reading.tag, stop: index + 1, cut: typed.cut.trim(), ...given({ closure: closure ?? "" }) };
    return [
      { at: `stops.${index}.cut`, act: { name: "cable.open", input: { ...input, even_if_marks_disagree: true } } },
    ];
  });
}

async function landed(reading: RunReading): Promise<Step[]> {
  const steps: Step[] = [];
  for (const [i, { end, strands, panel, ports, method }] of reading.run.landings.entries()) {
    const at = `landings.${i}`;
    if ([strands, panel, ports].every((text) => text.trim() === "")) continue;
    const stop = end === "A" ? reading.stops[0] : reading.stops.at(-1);
    const address = await reading.thing("panel", panel, stop?.space ?? null, `${at}.panel`);
    const lacks = lacking(reading, at, { strands, panel, ports });
    if (address === null || lacks) continue;
    const input = {
      strands: strandsOf(reading, strands),
      ports: `${address}:${ports.trim()}`,
      end,
      ...given({ method }),
    };
    steps.push({ at, act: { name: "strand.land", input } });
  }
  return steps;
}

async function spliced(reading: RunReading): Promise<Step[]> {
  const steps: Step[] = [];
  for (const [i, { at: place, strands, side, to, tray }] of reading.run.splices.entries()) {
    const at = `splices.${i}`;
    if ([strands, to, tray].every((text) => text.trim() === "")) continue;
    const space = await reading.named(place, ["space"], `${at}.at`);
    const stop = space === null ? undefined : reading.stops.find((one) => one.space === space.tag);
    if (space !== null && stop === undefined) reading.problem(`${at}.at`, say`is no place of this cable`, space.tag);
    const kept = await trayOf(reading, tray, space?.tag ?? null, stop?.closure ?? null, `${at}.tray`);
    const lacks = lacking(reading, at, { at: place, strands, to });
    if (lacks || stop === undefined || (tray.trim() !== "" && kept === null)) continue;
    // At its ends there is one end of each strand; where it is cut, the half towards A ends there with its B.
    const half = side === "A" ? "B" : side === "B" ? "A" : null;
    const end = stop.index === 0 ? "A" : stop.index === reading.stops.length - 1 ? "B" : half;
    const input = {
      from: strandsOf(reading, strands),
      to: to.trim(),
      ...(kept === null ? { at: space?.tag ?? "" } : { tray: kept }),
      ...(end ? { from_end: end } : {}),
    };
    steps.push({
      at,
      act: { name: "splice.range", input },
      fields: { from: "strands", from_end: "strands", to_end: "to" },
    });
  }
  return steps;
}

/** `CL-3/T2` in the place, or `T2` of the case that the cable enters there. */
async function trayOf(
  reading: RunReading,
  text: string,
  space: string | null,
  closure: string | null,
  at: string,
): Promise<string | null> {
  const typed = text.trim();
  if (typed === "") return null;
  const slash = typed.lastIndexOf("/");
  if (slash < 0) {
    if (closure !== null) return `${closure}/${typed}`;
    reading.problem(at, say`names no case; write it as CL-3/T2, or say above which case the cable enters here`);
    return null;
  }
  const kept = await reading.thing("closure", typed.slice(0, slash), space, at);
  return kept === null ? null : `${kept}/${typed.slice(slash + 1)}`;
}

/** Says which fields of a row that was begun are still empty. */
function lacking(reading: RunReading, at: string, fields: Readonly<Record<string, string>>): boolean {
  const empty = Object.entries(fields).filter(([, text]) => text.trim() === "");
  for (const [name] of empty) reading.problem(`${at}.${name}`, say`is empty`);
  return empty.length > 0;
}

function making(reading: RunReading, { kind, address, numbers, connector, capacity }: ToMake, i: number): Act {
  const slash = address.lastIndexOf("/");
  const space = slash < 0 ? null : address.slice(0, slash);
  const own = { tag: address.slice(slash + 1), ...(space === null ? {} : { space }) };
  const pattern = numbers.trim();
  if (kind === "panel")
    return {
      name: "panel.enter",
      input: { ...own, ports: pattern ? [{ numbers: pattern, ...given({ connector }) }] : [] },
    };
  const takes = reading.whole(capacity, `make.${i}.capacity`);
  const trays = pattern ? [{ numbers: pattern, ...(takes === null ? {} : { capacity: takes }) }] : [];
  return { name: "closure.enter", input: { ...own, trays } };
}
