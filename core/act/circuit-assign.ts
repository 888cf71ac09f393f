/** Give a circuit the glass of what a trace found, in order from A to Z. */
import { z } from "zod";
import { readBands } from "../model/bands.ts";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { addressesOf, sectionWords } from "../store/addresses.ts";
import type { Reader } from "../store/handle.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { takenSections } from "./circuit-taken.ts";
import { type ActContext, PlanDraft } from "./context.ts";
import { listed } from "./ends.ts";
import { address, evenIfTaken, given, known } from "./inputs.ts";
import { refuseTaken } from "./joints.ts";
import { type Chained, chain } from "./line-chain.ts";
import { type EndFacts, endFacts, firstEnd, type Line, lastEnd, linesOf, sectionsOf } from "./lines.ts";
import { knownValues, named } from "./named.ts";

type Role = Row<"assignment">["role"];

export const circuitAssignInput = z.strictObject({
  circuit: address(say`The circuit, by its number.`),
  what: z
    .array(address(say`A strand, port or position on the line, such as F-012:25 or LIB/101/A:07.`))
    .min(1)
    .max(100)
    .describe(
      say`What lies on the way from A to Z. One will do where the record joins all of it; several, in order, where not.`,
    ),
  roles: z
    .array(z.enum(["transmit", "receive", "both"]))
    .max(1000)
    .optional()
    .describe(say`The role of each strand seen from A; a duplex circuit's first strand is taken to transmit.`),
  from_on: given("assignment", "from_on"),
  until_on: given("assignment", "until_on"),
  band: given("assignment", "band"),
  set_ends: z.boolean().default(true).describe(say`Also note the ports at both ends, where the circuit has none yet.`),
  even_if_taken: evenIfTaken,
  ...known,
});
type Input = z.output<typeof circuitAssignInput>;

export interface Assigned {
  readonly circuit: string;
  readonly sections: number;
  readonly lines: readonly {
    readonly role: Role;
    readonly from: string;
    readonly to: string;
    readonly sections: readonly string[];
  }[];
}

type Circuit = Pick<Row<"circuit">, "id" | "tag" | "strands" | "a_port_id" | "z_port_id" | "rides_on_id" | "state">;

/** Lines side by side, each made of one piece for every part of `what`. */
async function chainsOf(context: ActContext, circuit: Circuit, what: readonly string[]): Promise<Chained[]> {
  const { reader } = context;
  const parts: Line[][] = [];
  for (const [i, text] of what.entries()) parts.push(await linesOf(reader, text, `what.${i}`));
  const width = parts[0]?.length ?? 0;
  const problems = parts.flatMap((lines, i): Problem[] =>
    lines.length === width
      ? []
      : [
          {
            row: i + 1,
            field: "what",
            record: what[i] ?? "",
            reason: say`is ${counted(lines.length, "strand")}; ${what[0]} is ${width}`,
          },
        ],
  );
  if (problems.length > 0) refuse("not_possible", say`The parts of the way don't have as many strands.`, problems);
  const ends = parts.flat().flatMap((line) => [firstEnd(line), lastEnd(line)]);
  const facts = await endFacts(reader, ends);
  return Array.from({ length: width }, (_, k) =>
    chain(
      parts.map((lines) => lines[k] as Line),
      facts,
      circuit,
    ),
  );
}

/** One strand in two lines, or twice on one: two starts lay on the same glass. */
function refuseTwice(chains: readonly Chained[], words: ReadonlyMap<number, string>): void {
  const seen = new Set<number>();
  const problems: Problem[] = [];
  for (const { lines } of chains) {
    for (const line of lines) {
      const own = sectionsOf(line);
      if (own.some((id) => seen.has(id))) {
        const id = own.find((one) => seen.has(one)) ?? 0;
        problems.push({
          field: "what",
          record: line.asked,
          reason: say`lies on glass that is named already: ${words.get(id)}`,
        });
      }
      for (const id of own) seen.add(id);
    }
  }
  const [first] = problems;
  if (first) refuse("bad_input", `${first.record} ${first.reason}.`, problems);
}

/** What the optic at the A end says of the position a line begins at. */
async function roleFromOptic(reader: Reader, end: EndFacts | undefined): Promise<Role | null> {
  if (!end?.port_id) return null;
  const [optic] = await reader.rows<Pick<Row<"interface">, "transmit_position" | "receive_position">>(
    "select transmit_position, receive_position from interface where port_id = ?",
    [end.port_id],
  );
  if (!optic || end.ordinal === null) return null;
  if (optic.transmit_position === end.ordinal && optic.receive_position !== end.ordinal) return "transmit";
  if (optic.receive_position === end.ordinal && optic.transmit_position !== end.ordinal) return "receive";
  return null;
}

async function rolesOf(
  draft: PlanDraft,
  chains: readonly Chained[],
  given: readonly Role[] | undefined,
): Promise<Role[]> {
  if (given) {
    if (given.length !== chains.length) {
      refuse("bad_input", say`${counted(given.length, "role")} for ${counted(chains.length, "strand")}.`, [
        { field: "roles", reason: say`lists ${given.length}; ${chains.length} are needed` },
      ]);
    }
    return [...given];
  }
  if (chains.length !== 2) return chains.map(() => "both");
  const optics = await Promise.all(chains.map(({ from }) => roleFromOptic(draft.context.reader, from)));
  if (optics.includes("transmit") && optics.includes("receive")) return optics as Role[];
  draft.notice(
    say`${chains[0]?.lines[0]?.asked} is taken to transmit seen from A, ${chains[1]?.lines[0]?.asked} to receive.`,
  );
  return ["transmit", "receive"];
}

/** Strands that are broken or degraded on record, in sentences. */
async function unfit(reader: Reader, words: ReadonlyMap<number, string>): Promise<string[]> {
  const rows = await reader.rows<{ id: number; condition: "broken" | "degraded" }>(
    `select s.id, t.condition from section s join strand t on t.id = s.strand_id
     where s.id in (select value from json_each(?)) and t.condition in ('broken', 'degraded') order by s.id`,
    [listed(words.keys())],
  );
  return rows.map(({ id, condition }) => say`${words.get(id)} is ${condition} on record.`);
}

/** The one port at an end of all lines, or null where they differ or end bare. */
const commonPort = (ends: readonly (EndFacts | undefined)[]): number | null => {
  const ports = new Set(ends.map((end) => end?.port_id ?? null));
  const [port] = ports;
  return ports.size === 1 ? (port ?? null) : null;
};

async function setEnds(draft: PlanDraft, circuit: Circuit, chains: readonly Chained[]): Promise<void> {
  const found = { a: commonPort(chains.map(({ from }) => from)), z: commonPort(chains.map(({ to }) => to)) };
  const said = { a: circuit.a_port_id, z: circuit.z_port_id };
  const tags = await addressesOf(
    draft.context.reader,
    "port",
    [found.a, found.z, said.a, said.z].filter((id) => id !== null),
  );
  for (const end of ["a", "z"] as const) {
    const [port, has] = [found[end], said[end]];
    const name = end.toUpperCase();
    if (has === null && port !== null) {
      draft.update("circuit", circuit.id, end === "a" ? { a_port_id: port } : { z_port_id: port });
    } else if (has !== null && port !== null && has !== port) {
      draft.notice(say`${circuit.tag} has ${tags.get(has)} as its ${name} port; the glass ends at ${tags.get(port)}.`);
    } else if (port === null && has === null) {
      draft.notice(say`The glass doesn't say the ${name} port of ${circuit.tag}.`);
    }
  }
}

/**
 * Refuses `not_possible` when a line forks or is a ring, when parts have not as many strands, and when a section is another
 * circuit's on the same days and in the same light (unless `even_if_taken`, or one rides on the other, or a splitter
 * shares it); `ambiguous` when a cut strand's section isn't said.
 */
export async function planCircuitAssign(context: ActContext, input: Input): Promise<Plan<Assigned>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  const { id: circuitId } = await named(reader, input.circuit, ["circuit"], "circuit");
  const [circuit] = await reader.rows<Circuit>(
    "select id, tag, strands, a_port_id, z_port_id, rides_on_id, state from circuit where id = ?",
    [circuitId],
  );
  if (!circuit) throw new Error(`circuit ${circuitId} is gone`);
  if (input.from_on && input.until_on && input.until_on <= input.from_on) {
    refuse("bad_input", say`The assignment would end before it begins.`, [
      { field: "until_on", reason: say`is ${input.until_on}; it must be after ${input.from_on}` },
    ]);
  }
  if (input.band && !readBands(input.band)) {
    refuse("bad_input", say`${input.band} can't be read as wavelengths.`, [
      { field: "band", record: input.band, reason: say`must be nanometres, such as 1310 or 1530-1565` },
    ]);
  }
  const every = await chainsOf(context, circuit, input.what);
  // A position of an optic with nothing behind it is no strand of the circuit.
  const withGlass = every.filter(({ lines }) => lines.some((line) => sectionsOf(line).length > 0));
  const chains = withGlass.length > 0 ? withGlass : every;
  for (const { lines } of every.filter((one) => !chains.includes(one)))
    draft.notice(say`${lines[0]?.asked} has no strand behind it and is left out.`);
  const words = await sectionWords(reader, new Set(chains.flatMap((one) => one.lines.flatMap(sectionsOf))));
  refuseTwice(chains, words);
  for (const { doubts } of chains) for (const doubt of doubts) draft.notice(doubt);
  for (const doubt of await unfit(reader, words)) draft.notice(doubt);
  if (words.size === 0) {
    refuse("not_possible", say`No glass lies on ${input.what.join(", ")}.`, [
      { field: "what", record: input.what.join(", "), reason: say`has no strand behind it` },
    ]);
  }
  const roles = await rolesOf(draft, chains, input.roles);
  const claim = { band: input.band ?? null, from_on: input.from_on ?? null, until_on: input.until_on ?? null };
  refuseTaken(draft, input.even_if_taken, await takenSections(reader, circuit, chains, claim, words));
  if (circuit.strands !== null && circuit.strands !== chains.length) {
    draft.notice(say`${circuit.tag} needs ${counted(circuit.strands, "strand")}; this gives it ${chains.length}.`);
  }
  if (input.set_ends) await setEnds(draft, circuit, chains);
  const last = await reader.rows<{ role: Role; last: number | null }>(
    "select role, max(ordinal) as last from assignment where circuit_id = ? group by role",
    [circuit.id],
  );
  const values = await knownValues(reader, input);
  let added = 0;
  for (const [k, { lines }] of chains.entries()) {
    const role = roles[k] as Role;
    const before = last.find((one) => one.role === role)?.last ?? 0;
    const sections = lines.flatMap(sectionsOf);
    added += sections.length;
    await draft.insert(
      "assignment",
      sections.map((section_id, i) => ({
        circuit_id: circuit.id,
        section_id,
        ordinal: before + i + 1,
        role,
        band: input.band,
        from_on: input.from_on,
        until_on: input.until_on,
        ...values,
      })),
    );
  }
  return draft.plan(say`Give ${circuit.tag} ${input.what.join(", ")} (${counted(added, "strand section")})`, {
    circuit: circuit.tag,
    sections: added,
    lines: chains.map(({ lines, from, to }, k) => ({
      role: roles[k] as Role,
      from: from?.words ?? "",
      to: to?.words ?? "",
      sections: lines.flatMap(sectionsOf).map((id) => words.get(id) ?? ""),
    })),
  });
}
