/** The labels somebody asks for, from what is typed and chosen, worded and ready to be laid out. */
import type { KindName } from "../model/dictionary.ts";
import { LABEL_CLASSES, type LabelClass } from "../model/label-blanks.ts";
import { refuse } from "../result.ts";
import { resolveOne } from "../store/addresses.ts";
import { say } from "../words/say.ts";
import type { FactsContext, LabelPlace } from "./facts.ts";
import { type LabelToMake, labelsToMake } from "./labels.ts";
import { labelsNamed, labelsNeeded, labelsOf, MOST_LABELS } from "./what.ts";
import { type CodeForm, faultsOf, readWordings, type Wording } from "./wordings.ts";

export interface LabelsAsked {
  /** Things by their addresses. */
  readonly of?: readonly string[] | undefined;
  /** Records of one kind, as a table shows them; each by itself, without its parts. */
  readonly rows?: { readonly kind: KindName; readonly ids: readonly number[] } | undefined;
  /** Only labels at this place. */
  readonly at?: string | undefined;
  readonly only?: readonly LabelClass[] | undefined;
  /** Only those that are to be made: none on record, due, not printed. */
  readonly needed?: boolean | undefined;
  /** A wording in use by its name. */
  readonly template?: string | undefined;
  /** A wording that is being written, to be tried before it is kept. */
  readonly draft?: { readonly place: LabelClass; readonly text: string; readonly code: CodeForm } | undefined;
}

/** Without `of` and `rows`: everything that needs a label by the plant's policy, or whose label is due. */
export async function labelsAsked(context: FactsContext, asked: LabelsAsked): Promise<LabelToMake[]> {
  const wordings = await readWordings(context.reader);
  const wording = draftOf(asked) ?? namedWording(wordings.all, asked.template);
  const places = await placesAsked(context, asked);
  const at =
    asked.at === undefined ? null : (await resolveOne(context.reader, asked.at, { kinds: ["space"], field: "at" })).id;
  const here = at === null ? places : places.filter(({ space_id }) => space_id === at);
  if (here.length > MOST_LABELS)
    refuse("bad_input", say`That is ${here.length} labels; at most ${MOST_LABELS} are made at once.`, [
      { field: "of", reason: say`means ${here.length} labels: name fewer things` },
    ]);
  const made = await labelsToMake(context, here, wordings, { wording });
  for (const used of new Set(made.map((one) => one.wording))) {
    const one = used === wording?.name ? wording : wordings.all.find(({ name }) => name === used);
    if (one) refuseFaults(one);
  }
  const all = asked.of === undefined && asked.rows === undefined;
  return made.filter(
    (one) => (!asked.only || asked.only.includes(one.class)) && (!(asked.needed || all) || one.needed !== null),
  );
}

async function placesAsked({ reader }: FactsContext, { of, rows }: LabelsAsked): Promise<LabelPlace[]> {
  const places: LabelPlace[] = [];
  for (const text of of ?? []) places.push(...(await labelsNamed(reader, text)));
  if (rows) places.push(...(await labelsOf(reader, rows.kind, rows.ids, false)));
  return of === undefined && rows === undefined ? labelsNeeded(reader) : places;
}

function draftOf({ draft }: LabelsAsked): Wording | null {
  if (!draft) return null;
  const wording: Wording = { ...draft, name: say`this wording`, from: "plant", id: null, rev: null };
  refuseFaults(wording);
  return wording;
}

function namedWording(all: readonly Wording[], name: string | undefined): Wording | null {
  if (name === undefined) return null;
  const found = all.find((one) => one.name.toLowerCase() === name.trim().toLowerCase());
  if (!found)
    refuse("not_found", say`There is no label template ${name}.`, [
      {
        field: "template",
        record: name,
        reason: say`is not in use; in use are ${all.map((one) => one.name).join(", ")}`,
      },
    ]);
  return found ?? null;
}

function refuseFaults(wording: Wording): void {
  const faults = faultsOf(wording);
  if (faults.length > 0)
    refuse(
      "bad_input",
      say`The wording for ${LABEL_CLASSES[wording.place]} can't be used.`,
      faults.map((reason) => ({ field: "text", record: wording.name, reason })),
    );
}
