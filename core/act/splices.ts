/** Adds splices: the part that splicing a range and closing a range again share. */
import { z } from "zod";
import type { Row } from "../model/dictionary.ts";
import { refuse } from "../result.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import type { PlanDraft } from "./context.ts";
import { type End, stubNotice } from "./ends.ts";
import { given } from "./inputs.ts";
import { refuseTaken } from "./joints.ts";
import { knownValues } from "./named.ts";
import { beyondCapacity, overCapacity, type TrayPlace, takenPlaces, trayUse } from "./trays.ts";

const losses = z
  .union([z.number(), z.array(z.number().nullable()).max(10_000)])
  .nullable()
  .optional();

export const spliceFields = {
  first_place: z
    .int()
    .min(1)
    .optional()
    .describe(say`Place of the first splice in the tray; the others follow in order.`),
  method: given("splice", "method"),
  form: given("splice", "form"),
  ribbon: z
    .int()
    .min(2)
    .max(36)
    .optional()
    .describe(say`Strands spliced at once, where ribbons are: each ribbon takes one place of the tray.`),
  loss_ab_db: losses.describe(say`Loss in decibels from the first to the second: one for all, or one a splice.`),
  loss_ba_db: losses.describe(say`Loss in decibels from the second to the first: one for all, or one a splice.`),
  loss_basis: given("splice", "loss_basis"),
  made_on: given("splice", "made_on"),
  made_by: given("splice", "made_by"),
};

export interface SpliceInput {
  readonly first_place?: number | undefined;
  readonly method?: Row<"splice">["method"] | undefined;
  readonly form?: Row<"splice">["form"] | undefined;
  readonly ribbon?: number | undefined;
  readonly loss_ab_db?: number | readonly (number | null)[] | null | undefined;
  readonly loss_ba_db?: number | readonly (number | null)[] | null | undefined;
  readonly loss_basis?: Row<"splice">["loss_basis"] | undefined;
  readonly made_on?: string | null | undefined;
  readonly made_by?: string | null | undefined;
  readonly even_if_taken?: boolean | undefined;
  readonly basis?: Row<"splice">["basis"] | undefined;
  readonly visit?: string | null | undefined;
  readonly notes?: string | null | undefined;
}

/**
 * What a joint just made can be read as, in decibels: read one way some seem to gain, by tenths and not by whole decibels,
 * and a joint that loses more than this is made again. Common practice, no source. The record itself takes more.
 */
const READ_DB = { least: -3, doubted: 3, most: 30 };

/** Losses that may have been misread, by a decimal point for one, in words; null where none is. */
export function doubtedLosses(...losses: readonly SpliceInput["loss_ab_db"][]): string | null {
  const all = losses.flatMap((values) => (typeof values === "number" ? [values] : (values ?? [])));
  const most = Math.max(...all.flatMap((loss) => loss ?? []));
  if (most <= READ_DB.doubted) return null;
  return say`A joint is said to lose ${most} dB, and one that loses more than ${READ_DB.doubted} dB is seldom left so: read it again, or make it again.`;
}

/** Refuses `bad_input` for losses that nobody reads of a joint, naming field and place in the list. */
export function refuseUnreadable(values: SpliceInput["loss_ab_db"], field: string): void {
  const all = typeof values === "number" ? [values] : (values ?? []);
  const problems = all.flatMap((loss, index) => {
    if (loss === null || (loss >= READ_DB.least && loss <= READ_DB.most)) return [];
    const reason =
      loss < 0
        ? say`is ${loss} dB: no joint gains more than ${-READ_DB.least} dB, and a loss has no sign`
        : say`is ${loss} dB: no joint that is kept loses more than ${READ_DB.most} dB`;
    return [{ field: typeof values === "number" ? field : `${field}.${index}`, reason }];
  });
  if (problems.length > 0)
    refuse("bad_input", say`A loss can't be as it is given: it ${problems[0]?.reason}.`, problems);
}

function lossList(values: SpliceInput["loss_ab_db"], n: number, field: string): (number | null)[] {
  refuseUnreadable(values, field);
  if (values === null || values === undefined || typeof values === "number") {
    return Array.from({ length: n }, () => values ?? null);
  }
  if (values.length !== n) {
    refuse("bad_input", say`${counted(values.length, "loss", "losses")} for ${counted(n, "splice")}.`, [
      { field, reason: say`lists ${values.length}; ${n} are needed, or one value for all` },
    ]);
  }
  return [...values];
}

/** Adds a splice for each pair of ends; answers their places in the tray. */
export async function insertSplices(
  draft: PlanDraft,
  from: readonly End[],
  to: readonly End[],
  tray: TrayPlace | null,
  input: SpliceInput,
): Promise<(number | null)[]> {
  const { reader, occasion } = draft.context;
  const each = input.form === "ribbon" ? (input.ribbon ?? 1) : 1;
  const first = input.first_place;
  const places = from.map((_, i) => (tray && first ? first + Math.floor(i / each) : null));
  if (tray) {
    const use = await trayUse(reader, tray);
    refuseTaken(draft, input.even_if_taken, takenPlaces(tray, use, places));
    const doubt = overCapacity(tray, use, Math.ceil(from.length / each)) ?? beyondCapacity(tray, places);
    if (doubt) draft.notice(doubt);
  }
  const stubs = stubNotice([...from, ...to]);
  if (stubs) draft.notice(stubs);
  const ab = lossList(input.loss_ab_db, from.length, "loss_ab_db");
  const ba = lossList(input.loss_ba_db, from.length, "loss_ba_db");
  const doubted = doubtedLosses(input.loss_ab_db, input.loss_ba_db);
  if (doubted) draft.notice(doubted);
  const values = await knownValues(reader, input);
  await draft.insert(
    "splice",
    from.map((end, i) => ({
      tray_id: tray?.id ?? null,
      place: places[i],
      a_section_id: end.section_id,
      a_side: end.side,
      b_section_id: to[i]?.section_id,
      b_side: to[i]?.side,
      method: input.method,
      form: input.form,
      loss_ab_db: ab[i],
      loss_ba_db: ba[i],
      loss_basis: input.loss_basis,
      made_on: input.made_on ?? occasion.day ?? null,
      made_by: input.made_by,
      ...values,
    })),
  );
  return places;
}
