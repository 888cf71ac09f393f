/** A way of free strands as planned records: a circuit that holds its glass, the joints to be made, and a job that lists them. */
import { type ActContext, PlanDraft } from "../act/context.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import type { RecordRef } from "../trace/answer.ts";
import { counted, plural } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { FreeJoint, FreePairAnswer, FreeStrand, FreeWay } from "./answer.ts";

export interface PlanInput {
  /** Which of the ways, from 1. */
  readonly way: number;
  readonly circuit: string;
  readonly name?: string | undefined;
  /** The number of the job that makes the joints; left out, no job is planned. */
  readonly job?: string | undefined;
}

export interface PlannedWay {
  readonly circuit: RecordRef;
  readonly job: RecordRef | null;
  readonly sections: number;
  readonly splices: number;
  readonly cords: number;
  /** What is to be made, place by place. */
  readonly work: readonly string[];
  readonly way: FreeWay;
}

interface Position {
  readonly id: number;
  readonly port_id: number;
  readonly ordinal: number;
}

/** Refuses `not_possible` where there is no way, or none of that number; the gateway refuses tags that are taken. */
export async function planWay(context: ActContext, found: FreePairAnswer, input: PlanInput): Promise<Plan<PlannedWay>> {
  const { from, to, strands, ways, application } = found;
  const way = ways[input.way - 1];
  if (!way) {
    const what =
      ways.length === 0
        ? found.sentence
        : plural(ways.length, "There is one way, and no way {1}.", "There are {0} ways, and no way {1}.", input.way);
    const problem: Problem = { field: "way", record: String(input.way), reason: say`is not among the ways found` };
    return refuse("not_possible", what, [problem]);
  }
  const draft = new PlanDraft(context);
  const work = workOf(way);
  const job_id = input.job === undefined ? null : await planJob(draft, input, found, work);
  const positions = await positionsOf(context, way);
  const portAt = (end: "from" | "to"): number | null => {
    const stretch = end === "from" ? way.stretches[0] : way.stretches.at(-1);
    const ports = new Set(stretch?.strands.map((strand) => positions.get(strand[end].id)?.port_id));
    const [port] = ports;
    return ports.size === 1 ? (port ?? null) : null;
  };
  const [a_port_id, z_port_id] = [portAt("from"), portAt("to")];
  for (const [port, name] of [
    [a_port_id, "A"],
    [z_port_id, "Z"],
  ] as const) {
    if (port === null)
      draft.notice(say`The strands end on several ports: the ${name} port of ${input.circuit} is left open.`);
  }
  const circuit_id = await draft.insertOne("circuit", {
    tag: input.circuit,
    name: input.name,
    application,
    strands,
    state: "planned",
    a_port_id,
    z_port_id,
    job_id,
  });
  const sections = await assign(draft, circuit_id, way, strands);
  const life = { life: "planned", life_job_id: job_id } as const;
  for (const [n, { kind }] of way.joints.entries()) {
    const [before, after] = [way.stretches[n]?.strands ?? [], way.stretches[n + 1]?.strands ?? []];
    const pairs = before.map((strand, k) => [strand, after[k] as FreeStrand] as const);
    if (kind === "splice") {
      await draft.insert(
        "splice",
        pairs.map(([one, other]) => ({
          a_section_id: one.to.id,
          a_side: one.to_side,
          b_section_id: other.from.id,
          b_side: other.from_side,
          ...life,
        })),
      );
    } else {
      const ends = pairs.map(([one, other]) => ({
        a: positions.get(one.to.id) as Position,
        b: positions.get(other.from.id) as Position,
      }));
      await draft.insert(
        "cord",
        cordsFor(ends).map((cord) => ({ ...cord, map: "straight", ...life })),
      );
    }
  }
  if (way.kept_for_repair > 0)
    draft.notice(
      plural(
        way.kept_for_repair,
        "{0} of the strands is kept for repair by the plant's policy.",
        "{0} of the strands are kept for repair by the plant's policy.",
      ),
    );
  if (way.loss?.application && way.loss.application.runs_at_worst !== "yes") {
    const { application: wanted, reasons } = way.loss.application;
    draft.notice(say`Whether ${wanted} runs is in doubt: ${reasons.join("; ")}.`);
  }
  return draft.plan(say`Plan ${input.circuit} from ${from.tag} to ${to.tag}`, {
    circuit: { kind: "circuit", id: circuit_id, tag: input.circuit },
    job: job_id === null ? null : { kind: "job", id: job_id, tag: input.job as string },
    sections,
    splices: way.splices,
    cords: way.cords,
    work,
    way,
  });
}

async function planJob(draft: PlanDraft, input: PlanInput, found: FreePairAnswer, work: readonly string[]) {
  const job_id = await draft.insertOne("job", {
    tag: input.job as string,
    reason: say`${input.circuit}: ${counted(found.strands, "strand")} from ${found.from.tag} to ${found.to.tag}`.slice(
      0,
      400,
    ),
    state: "drafted",
    lasting: "permanent",
  });
  const steps = [...work, say`Measure the strands of ${input.circuit} from end to end`];
  await draft.insert(
    "job_step",
    steps.map((act, n) => ({ job_id, ordinal: n + 1, act: act.slice(0, 200) })),
  );
  return job_id;
}

/** Each joint in words, one a strand. */
const workOf = (way: FreeWay): string[] =>
  way.joints.flatMap(({ kind, space }: FreeJoint, n) =>
    (way.stretches[n]?.strands ?? []).map((one, k) => {
      const other = way.stretches[n + 1]?.strands[k];
      return kind === "splice"
        ? say`At ${space.tag} splice ${one.to.tag} to ${other?.from.tag}`
        : say`At ${space.tag} patch ${one.to.tag} to ${other?.from.tag}`;
    }),
  );

async function positionsOf({ reader }: ActContext, way: FreeWay): Promise<Map<number, Position>> {
  const ids = way.stretches.flatMap(({ strands }) =>
    strands.flatMap(({ from, to }) => [from, to].flatMap(({ kind, id }) => (kind === "position" ? [id] : []))),
  );
  const rows = await reader.rows<Position>(
    "select id, port_id, ordinal from position where id in (select value from json_each(?))",
    [JSON.stringify(ids)],
  );
  return new Map(rows.map((row) => [row.id, row]));
}

async function assign(draft: PlanDraft, circuit_id: number, way: FreeWay, strands: number): Promise<number> {
  const rows = Array.from({ length: strands }, (_, k) => {
    const glass = way.stretches.flatMap((stretch) => stretch.strands[k]?.sections ?? []);
    const role = strands !== 2 ? ("both" as const) : k === 0 ? ("transmit" as const) : ("receive" as const);
    return glass.map(({ id }, n) => ({ circuit_id, section_id: id, ordinal: n + 1, role }));
  }).flat();
  await draft.insert("assignment", rows);
  return rows.length;
}

/** Cords for pairs of positions: neighbours in the same two ports share one. */
function cordsFor(ends: readonly { readonly a: Position; readonly b: Position }[]) {
  const cords: { a_port_id: number; a_first: number; b_port_id: number; b_first: number; fibres: number }[] = [];
  for (const { a, b } of ends) {
    const last = cords.at(-1);
    const goesOn =
      last?.a_port_id === a.port_id &&
      last.b_port_id === b.port_id &&
      a.ordinal === last.a_first + last.fibres &&
      b.ordinal === last.b_first + last.fibres;
    if (last && goesOn) last.fibres += 1;
    else cords.push({ a_port_id: a.port_id, a_first: a.ordinal, b_port_id: b.port_id, b_first: b.ordinal, fibres: 1 });
  }
  return cords;
}
