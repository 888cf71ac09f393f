/** Published tables, with their sources. */
import { z } from "zod";
import { type EditionInUse, editionInUse } from "../../light/edition.ts";
import { COLOUR_SEQUENCES } from "../../model/lists.ts";
import { refuse } from "../../result.ts";
import { type Beyond, SEQUENCES, type SequenceName } from "../../standards/colour-table.ts";
import { type Colour, colourAt, colourShort, colourWords } from "../../standards/colours.ts";
import { EDITIONS, type Edition } from "../../standards/limits/acceptance.ts";
import { type LimitInUse, limitSource, limitsInUse } from "../../standards/limits/in-use.ts";
import { sourceWords } from "../../standards/source.ts";
import { asInSource } from "../../words/language.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

export interface ColourOfPosition extends Colour {
  readonly position: number;
  /** "blue, one stripe"; null where the record can't say. */
  readonly words: string | null;
  /** "BL+1"; null for a colour outside the code. */
  readonly short: string | null;
}

export interface ColoursAnswer {
  readonly sequence: SequenceName;
  /** What people call it. */
  readonly label: string;
  readonly colours: readonly ColourOfPosition[];
  /** Where the order comes from, and how far that is trusted; null for a list somebody typed. */
  readonly source: string | null;
  /** Where the marks after position 12 come from; null where none is shown. */
  readonly beyond: string | null;
}

/** The source of the marks; positions that it doesn't cover follow the same rule, which is said. */
function beyondWords({ covers, source }: Beyond, count: number): string {
  const further = covers !== null && covers > 12 && count > covers;
  return `${sourceWords(source)}${further ? say`; positions after ${covers} go on the same way (worked out)` : ""}`;
}

export const standardsColours = defineRead({
  name: "standards.colours",
  help: say`Answers the colours of positions 1 to count in a sequence, with their source.`,
  input: z.strictObject({
    sequence: z
      .enum(Object.keys(COLOUR_SEQUENCES) as [SequenceName])
      .describe(say`The sequence; explicit for a list of your own.`),
    count: z.int().min(1).max(2000).default(12).describe(say`How many positions.`),
    explicit: z
      .array(z.string().trim().min(1).max(40))
      .max(2000)
      .optional()
      .describe(say`Colours in order, where the cable lists them; further positions follow the sequence.`),
  }),
  run: async (_context, { sequence, count, explicit }): Promise<ColoursAnswer> => {
    if (sequence === "explicit" && !explicit?.length) {
      refuse("bad_input", say`A list of your own needs its colours.`, [{ field: "explicit", reason: say`is missing` }]);
    }
    const listed = explicit?.length ?? 0;
    const table = sequence === "explicit" ? null : SEQUENCES[sequence];
    return {
      sequence,
      label: COLOUR_SEQUENCES[sequence],
      colours: Array.from({ length: count }, (_, index) => {
        const colour = colourAt(sequence, index + 1, explicit);
        return { position: index + 1, ...colour, words: colourWords(colour), short: colourShort(colour) };
      }),
      source: table === null || listed >= count ? null : sourceWords(table.source),
      beyond: table === null || count <= 12 || listed >= count ? null : beyondWords(table.beyond, count),
    };
  },
});

export interface LimitShown extends LimitInUse {
  /** Source, edition, how it is known and the plant's reason, in one phrase. */
  readonly words: string;
  /** Who last changed the plant's own record, when, and the version that made of it; null for a published value. */
  readonly changed: { readonly by: string; readonly at: string; readonly rev: number } | null;
}

/** The edition by which links are accepted, and those that can be chosen. */
export interface EditionShown extends EditionInUse {
  readonly editions: readonly {
    readonly edition: Edition;
    readonly words: string;
    /** The name as it is kept, which is found again whatever language is spoken. */
    readonly name: string;
  }[];
  /** Who last changed the plant's choice, and when; null where it made none. */
  readonly changed: LimitShown["changed"];
}

export interface LimitsAnswer {
  readonly limits: readonly LimitShown[];
  readonly acceptance: EditionShown;
}

export const standardsLimits = defineRead({
  name: "standards.limits",
  help: say`Answers the limits in use: the plant's own value where it sets one, else the published one, with source and reason; and the edition by which links are accepted, which the plant chooses in its limit acceptance.edition.`,
  input: z.strictObject({
    under: z.string().trim().max(60).default("").describe(say`Only tags that begin so, such as attenuation.os2.`),
  }),
  run: async ({ reader }, { under }): Promise<LimitsAnswer> => {
    const inUse = await limitsInUse(reader);
    const among = inUse.under(under);
    const rows = await reader.rows<{ id: number; rev: number; by: string; at: string }>(
      `select l.id, l.rev, c.author as "by", c.at from limit_value l join change_set c on c.id = l.rev`,
    );
    const changes = new Map(rows.map(({ id, ...change }) => [id, change]));
    const changeOf = (record: { id: number } | null) => (record ? (changes.get(record.id) ?? null) : null);
    const edition = editionInUse(inUse);
    return {
      limits: among.map((limit) => ({ ...limit, words: limitSource(limit), changed: changeOf(limit.record) })),
      acceptance: {
        ...edition,
        editions: (Object.keys(EDITIONS) as Edition[]).map((one) => ({
          ...{ edition: one, words: EDITIONS[one], name: asInSource(EDITIONS[one]) },
        })),
        changed: changeOf(edition.record),
      },
    };
  },
});
