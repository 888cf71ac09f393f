/** A strand usage list: which circuit a strand carries, and what is wrong with it. */
import { resolveOne, resolveStrands } from "../../store/addresses.ts";
import type { Reader } from "../../store/handle.ts";
import { say } from "../../words/say.ts";
import type { Act, Shape } from "../shape.ts";
import { strandText } from "./strand-text.ts";

/** What crews write of a strand, and the condition it means; nothing is said of one that is merely unused. */
const CONDITIONS: Readonly<Record<string, "good" | "unproven" | "degraded" | "broken" | null>> = {
  ...{ good: "good", ok: "good", pass: "good", unproven: "unproven", untested: "unproven" },
  ...{ degraded: "degraded", bad: "degraded", high: "degraded", fail: "degraded" },
  ...{ broken: "broken", dead: "broken", cut: "broken", "no light": "broken" },
  ...{ spare: null, free: null, dark: null, "in use": null, used: null, lit: null },
};

export const usage: Shape = {
  name: "usage",
  title: say`strand usage list`,
  help: say`A strand a row: the circuit on it, and its condition.`,
  columns: [
    {
      ...{ name: "strand", heading: "strand", label: say`strand`, help: say`Such as F-012:25.`, needed: true },
      also: ["strands", "fiber", "fibre", "fibers", "fibres", "strand no", "fiber no", "fibre no"],
    },
    {
      name: "cable",
      heading: "cable",
      label: say`cable`,
      help: say`Where the strand's cell doesn't name it.`,
      also: ["cable no", "cable number"],
    },
    {
      ...{
        name: "circuit",
        heading: "circuit",
        label: say`circuit`,
        help: say`The circuit on it, by its number.`,
        names: "circuit",
      },
      also: ["circuit no", "service", "used by", "assignment", "circuit id"],
    },
    {
      name: "state",
      heading: "condition",
      label: say`condition`,
      help: say`Good, unproven, degraded, broken; spare says nothing.`,
      also: ["state", "status", "usage"],
    },
    {
      name: "why",
      heading: "why",
      label: say`why`,
      help: say`Why it is in that condition.`,
      also: ["reason", "remark", "remarks", "note", "notes", "comment", "comments"],
    },
  ],
  claims: (cells) => {
    const [cable, strand] = [cells.text("cable"), cells.text("strand")];
    return strand === undefined ? null : cable === undefined ? strand : `${cable}:${strand}`;
  },
  read: async (reader, cells) => {
    const strand = strandText(cells, "cable", "strand");
    const circuit = cells.text("circuit");
    const state = cells.text("state")?.toLowerCase();
    const condition = state === undefined ? null : CONDITIONS[state];
    if (condition === undefined)
      cells.problem("state", say`is “${cells.text("state")}”: must be one of ${Object.keys(CONDITIONS).join(", ")}`);
    if (strand === "") return null;
    const acts: Act[] = [];
    const said: string[] = [];
    const { strands } = await resolveStrands(reader, strand, { field: "strand" });
    if (condition) {
      const why = cells.text("why");
      const values = { condition, ...(why === undefined ? {} : { condition_why: why }) };
      const changes = strands.map(({ id }) => ({ op: "edit", kind: "strand", id, values }));
      acts.push({ name: "record.change_many", input: { changes } });
      said.push(say`${strand} is ${condition}`);
    }
    if (
      circuit !== undefined &&
      !(await carries(
        reader,
        strands.map(({ id }) => id),
        circuit,
      ))
    ) {
      acts.push({ name: "circuit.assign", input: { circuit, what: [strand] } });
      said.push(say`give ${strand} to ${circuit}`);
    }
    return { words: said.join("; ") || strand, same: say`${strand}: nothing to change`, acts };
  },
};

async function carries(reader: Reader, strands: readonly number[], circuit: string): Promise<boolean> {
  const { id } = await resolveOne(reader, circuit, { kinds: ["circuit"], field: "circuit" });
  const [found] = await reader.rows<{ n: number }>(
    `select count(distinct s.strand_id) as n from assignment a join section s on s.id = a.section_id
     where a.circuit_id = ? and a.until_on is null and s.strand_id in (select value from json_each(?))`,
    [id, JSON.stringify(strands)],
  );
  return found?.n === strands.length;
}
