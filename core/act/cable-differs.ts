/** What a cable has otherwise than its type: only what differs is kept, and it is kept as differing. */
import { z } from "zod";
import { checkValue } from "../model/check-values.ts";
import { Fault } from "../model/clean-text.ts";
import { fieldOf, type Row, type Value, type Values } from "../model/dictionary.ts";
import { type Problem, refuse } from "../result.ts";
import { tubesByFibre } from "../standards/colours.ts";
import { say } from "../words/say.ts";

/** Fields of a type that a cable has a field of its own for. */
const OWN = ["colour_sequence", "unit_colours", "strand_colours"] as const;
/** What names the data sheet can't differ from it. */
const NEVER: ReadonlySet<string> = new Set(["tag", "basis", "basis_visit_id", "basis_paper_id", "notes"]);

export const differsInput = z
  .record(z.string().max(60), z.unknown())
  .optional()
  .describe(say`Fields of the type that this cable has otherwise, with their values.`);

const colourList = (help: string) =>
  z.array(z.string().trim().min(1).max(40)).max(1000).nullable().optional().describe(help);

export const coloursInput = {
  colour_sequence: z
    .enum(Object.keys(sequenceWords()) as [NonNullable<Values<"cable">["colour_sequence"]>])
    .nullable()
    .optional()
    .describe(say`Which sequence colours its units and strands, where it differs from the type.`),
  unit_colours: colourList(say`The colours of its units in order, where they are listed.`),
  strand_colours: colourList(say`The colours of the strands of a unit in order, where they are listed.`),
  tubes_by_fibre: z
    .boolean()
    .optional()
    .describe(say`Central-European tubes: red, green, then all of the colour that tells the fibre.`),
};

function sequenceWords(): Readonly<Record<string, string>> {
  const field = fieldOf("cable", "colour_sequence");
  return field?.type === "choice" ? field.values : {};
}

interface Given {
  readonly differs?: Readonly<Record<string, unknown>> | undefined;
  readonly colour_sequence?: Values<"cable">["colour_sequence"] | undefined;
  readonly unit_colours?: readonly string[] | null | undefined;
  readonly strand_colours?: readonly string[] | null | undefined;
  readonly tubes_by_fibre?: boolean | undefined;
}

export interface Differing {
  readonly values: Pick<Values<"cable">, "differs" | (typeof OWN)[number]>;
  /** Labels of the fields that differ from the type. */
  readonly labels: readonly string[];
  readonly notices: readonly string[];
}

const same = (a: Value | undefined, b: Value | undefined): boolean => (a ?? null) === (b ?? null);

/**
 * Sorts what was typed into the cable's own fields and `differs`. What equals the type is left out. `outerUnits` is how
 * many units lie side by side, for tubes coloured by their fibre.
 */
export function readDiffering(
  input: Given,
  type: Row<"cable_type"> | null,
  outerUnits: number,
  tag: string,
): Differing {
  const problems: Problem[] = [];
  const notices: string[] = [];
  const wanted = new Map<string, Value>();
  const want = (name: string, value: unknown) => {
    const field = fieldOf("cable_type", name);
    if (field === undefined || NEVER.has(name)) {
      problems.push({ record: tag, field: name, reason: say`is nothing a cable can have otherwise than its type` });
      return;
    }
    const checked = checkValue("cable_type", name, value);
    if (checked instanceof Fault) problems.push({ record: tag, field: field.label, reason: checked.reason });
    else wanted.set(name, checked);
  };
  for (const [name, value] of Object.entries(input.differs ?? {})) want(name, value);
  for (const name of OWN) if (input[name] !== undefined && input[name] !== null) want(name, input[name]);
  if (input.tubes_by_fibre) {
    const fibre = (wanted.get("fibre_class") ?? type?.fibre_class ?? null) as Row<"cable_type">["fibre_class"];
    const list = tubesByFibre(outerUnits, fibre);
    if (list === null || list.length === 0) {
      problems.push({
        record: tag,
        field: say`tubes by fibre`,
        reason: list === null ? say`needs the fibre class of the type` : say`needs tubes; the cable has none`,
      });
    } else want("unit_colours", list);
  }
  if (problems.length > 0) refuse("bad_input", `${tag}: ${problems[0]?.field} ${problems[0]?.reason}.`, problems);

  const differing = [...wanted].filter(([name, value]) => !same(value, type?.[name as keyof Row<"cable_type">]));
  const isOwn = (name: string): boolean => (OWN as readonly string[]).includes(name);
  const beside = differing.filter(([name]) => !isOwn(name));
  if (type === null && beside.length > 0) {
    refuse("bad_input", say`${tag} has no type, so nothing can differ from it; name its type.`, [
      { record: tag, field: say`differs from type`, reason: say`needs a type` },
    ]);
  }
  const label = (name: string): string => fieldOf("cable_type", name)?.label ?? name;
  for (const [name] of wanted) {
    if (type !== null && !differing.some(([other]) => other === name))
      notices.push(say`${label(name)} is as type ${type.tag} says; it is not marked as differing.`);
  }
  const own = Object.fromEntries(differing.filter(([name]) => isOwn(name)));
  // Shapes are kept as JSON text; inside `differs` they stand as themselves.
  const asContent = ([name, value]: readonly [string, Value]): [string, unknown] => [
    name,
    fieldOf("cable_type", name)?.type === "shape" && typeof value === "string" ? JSON.parse(value) : value,
  ];
  return {
    values: {
      colour_sequence: (own.colour_sequence ?? null) as Values<"cable">["colour_sequence"],
      unit_colours: (own.unit_colours ?? null) as string | null,
      strand_colours: (own.strand_colours ?? null) as string | null,
      differs: beside.length === 0 ? null : JSON.stringify(Object.fromEntries(beside.map(asContent))),
    },
    labels: type === null ? [] : differing.map(([name]) => label(name)),
    notices,
  };
}
