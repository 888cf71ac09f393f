/** Renumber a panel: its tag, its ports, or both. Old numbers stay findable, labels become due. */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import type { Plan } from "../store/plan.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type ActContext, isCorrection, PlanDraft } from "./context.ts";
import { address } from "./inputs.ts";
import { makeDue, portLabelPolicy } from "./label-due.ts";
import { named } from "./named.ts";
import { expandNumbering } from "./numbering.ts";

export const renumberInput = z.strictObject({
  panel: address(say`The panel to renumber, such as LIB/101/A.`),
  tag: z.string().trim().min(1, say`is empty`).max(60).optional().describe(say`The panel's new tag.`),
  ports: z
    .union([
      z.string().max(4000).describe(say`New numbers for all ports in their order, such as 25..48.`),
      z
        .array(z.strictObject({ from: z.string().trim().min(1), to: z.string().trim().min(1) }))
        .min(1)
        .max(2000),
    ])
    .optional()
    .describe(say`New numbers: a pattern for all ports in their order, or a list of old and new ones.`),
});

type PortRow = Pick<Row<"port">, "id" | "tag" | "former_tags">;

export interface Renumbered {
  readonly panel: string;
  readonly ports: readonly { readonly from: string; readonly to: string }[];
  readonly labels_due: number;
}

/** The names a thing had before: the old one joins, the new one is no longer a former one. */
export function formerTags(stored: string | null, old: string, now: string): string | null {
  const names = [...new Set([...(stored ? (JSON.parse(stored) as string[]) : []), old])].filter((name) => name !== now);
  return names.length > 0 ? JSON.stringify(names) : null;
}

function newNumbers(
  ports: readonly PortRow[],
  wanted: NonNullable<z.output<typeof renumberInput>["ports"]>,
  panel: string,
): Map<PortRow, string> {
  if (typeof wanted === "string") {
    const names = expandNumbering(wanted, "ports");
    if (names.length !== ports.length) {
      refuse("not_possible", say`${panel} has ${counted(ports.length, "port")}; ${wanted} is ${names.length}.`, [
        { field: "ports", record: wanted, reason: say`is ${counted(names.length, "number")}` },
        { field: "ports", record: panel, reason: say`has ${counted(ports.length, "port")}` },
      ]);
    }
    return new Map(ports.map((port, i) => [port, names[i] as string]));
  }
  const byTag = new Map(ports.map((port) => [port.tag, port]));
  const problems: Problem[] = [];
  const renamed = new Map<PortRow, string>();
  wanted.forEach(({ from, to }, i) => {
    const port = byTag.get(from);
    if (!port) problems.push({ row: i + 1, field: "ports", record: `${panel}:${from}`, reason: say`is not on record` });
    else if (renamed.has(port)) {
      problems.push({ row: i + 1, field: "ports", record: `${panel}:${from}`, reason: say`is renumbered twice` });
    } else renamed.set(port, to);
  });
  const [first] = problems;
  if (first) refuse("not_found", `${first.record} ${first.reason}.`, problems);
  return renamed;
}

/**
 * Refuses `not_possible` when the pattern has not as many numbers as the panel has ports; `not_found` for a port that isn't
 * there; two ports of one number are refused by the gateway as `duplicate`. Numbers may be swapped and shifted freely.
 * In a correction the things themselves were right, so no label becomes due.
 */
export async function planRenumber(
  context: ActContext,
  input: z.output<typeof renumberInput>,
): Promise<Plan<Renumbered>> {
  const { reader } = context;
  const draft = new PlanDraft(context);
  if (input.tag === undefined && input.ports === undefined) {
    refuse("bad_input", say`What is to be renumbered?`, [
      { field: "ports", reason: say`or a new tag for the panel is needed` },
    ]);
  }
  const panel = await named(reader, input.panel, ["panel"], "panel");
  const [row] = await reader.rows<Row<"panel">>("select * from panel where id = ?", [panel.id]);
  const ports = await reader.rows<PortRow>(
    "select id, tag, former_tags from port where panel_id = ? order by tag_key, tag, id",
    [panel.id],
  );
  const numbers = input.ports === undefined ? new Map<PortRow, string>() : newNumbers(ports, input.ports, panel.tag);
  const changed = [...numbers].filter(([port, to]) => port.tag !== to);
  for (const [port, to] of changed) {
    draft.update("port", port.id, { tag: to, former_tags: formerTags(port.former_tags, port.tag, to) });
  }
  const retagged = input.tag !== undefined && input.tag !== row?.tag;
  if (retagged && row && input.tag !== undefined) {
    draft.update("panel", panel.id, { tag: input.tag, former_tags: formerTags(row.former_tags, row.tag, input.tag) });
  }
  let due = 0;
  if (!isCorrection(context)) {
    const policy = await portLabelPolicy(reader);
    const whys = new Map(changed.map(([port, to]) => [port.id, say`renumbered from ${port.tag} to ${to}`]));
    due += await makeDue(draft, "port", whys, policy === "port");
    // One label for the panel lists its ports, so it is due when they change as well.
    if (retagged || (policy === "panel" && changed.length > 0)) {
      const why = retagged ? say`renumbered from ${row?.tag} to ${input.tag}` : say`its ports were renumbered`;
      due += await makeDue(draft, "panel", new Map([[panel.id, why]]), policy !== "none");
    }
  }
  return draft.plan(say`Renumber ${panel.tag}${retagged ? say` to ${input.tag}` : ""}`, {
    panel: panel.tag,
    ports: changed.map(([port, to]) => ({ from: port.tag, to })),
    labels_due: due,
  });
}
