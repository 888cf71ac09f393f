/** What a strand section is doing, in one word and why. */
import { sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import type { Circuit, Service } from "../glass/service.ts";
import { shownDay } from "../model/wording.ts";
import { say } from "../words/say.ts";
import type { StrandState } from "./answer.ts";
import type { CableFacts, StopFacts } from "./cables.ts";
import type { GlassSection } from "./facts.ts";

export interface SectionState {
  readonly state: StrandState;
  /** When that needs saying. */
  readonly why: string | null;
}

/** Of several circuits that share a section by design, the one that tells most. */
const RANK = ["in_service", "leased", "reserved", "planned"] as const;

const stateOfCircuit = ({ state, tenant }: Circuit): (typeof RANK)[number] =>
  state === "retired" ? "planned" : tenant !== null ? "leased" : state;

const since = (day: string | null): string => (day === null ? "" : say` since ${shownDay(day)}`);

/**
 * In this order: broken; assigned twice; what its circuit is; then dead, for glass that nothing is given to and whose end
 * at an opening or cut is joined to nothing; else spare. Spare glass of another owner is not ours to call spare.
 */
export function stateOf(
  section: GlassSection,
  cable: CableFacts | undefined,
  service: Service,
  glass: Glass,
  stopOf: (id: number) => StopFacts | undefined,
  planned: ReadonlyMap<number, string> = new Map(),
): SectionState {
  if (section.condition === "broken") return { state: "broken", why: section.condition_why };
  const [clash] = service.clashes(section.id);
  if (clash) {
    const [one, other] = [clash.a, clash.b].map(
      (given) => `${service.circuits.get(given.circuit_id)?.tag ?? say`a circuit`}${since(given.from_on)}`,
    );
    return { state: "assigned_twice", why: say`given to ${one} and to ${other}` };
  }
  const circuits = service.circuitsOf(section.id);
  const [circuit] =
    circuits.length < 2
      ? circuits
      : circuits.sort((a, b) => RANK.indexOf(stateOfCircuit(a)) - RANK.indexOf(stateOfCircuit(b)));
  if (circuit) {
    const { tag, tenant, reserved_until } = circuit;
    const lapsed = circuit.state === "reserved" && reserved_until !== null && reserved_until <= service.today;
    const why = lapsed
      ? say`the reservation for ${tag} ended on ${shownDay(reserved_until)}`
      : tenant !== null
        ? say`${tag} is a service of ${tenant}`
        : // What it is given to doesn't run over glass that ends here.
          cutAt(section, glass, stopOf, planned);
    return { state: stateOfCircuit(circuit), why };
  }
  const cut = cutAt(section, glass, stopOf, planned);
  if (cut !== null) return { state: "dead", why: cut };
  if (cable?.foreign_owner)
    return { state: "unknown", why: say`${cable.foreign_owner}'s glass, not given to us on record` };
  if (section.condition === "degraded") return { state: "spare", why: section.condition_why ?? say`degraded` };
  return { state: "spare", why: null };
}

/** That its end at an opening or cut is joined to nothing, in words; null where none is. */
function cutAt(
  section: GlassSection,
  glass: Glass,
  stopOf: (id: number) => StopFacts | undefined,
  planned: ReadonlyMap<number, string>,
): string | null {
  for (const side of ["A", "B"] as const) {
    const stop = stopOf((side === "A" ? section.a_stop_id : section.b_stop_id) ?? 0);
    if (stop && (stop.kind === "opened" || stop.kind === "severed") && glass.first(sectionEnd(section.id, side)) < 0) {
      // What will join it is said where the line ends.
      if (planned.has(sectionEnd(section.id, side))) return say`cut at its end ${side}, and not joined yet`;
      const stub = side === "A" ? section.a_stub : section.b_stub;
      const left = stub === "yes" ? say`, a stub is left` : stub === "no" ? say`, too short to splice` : "";
      return say`cut at its end ${side} and joined to nothing${left}`;
    }
  }
  return null;
}
