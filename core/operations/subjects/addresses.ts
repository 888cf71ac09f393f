/** Finding records by what people call them. */
import { z } from "zod";
import { KIND_NAMES, type KindName } from "../../model/dictionary.ts";
import { readCode } from "../../paper/document.ts";
import { type Match, numberRuns, type RecordRef, resolve } from "../../store/addresses.ts";
import { findRecords, type Hit } from "../../store/find.ts";
import { missingPart, withKnownSections } from "../../store/missing-part.ts";
import { nearestTags } from "../../store/nearest.ts";
import { readPorts } from "../../store/ports.ts";
import { type NamedStrand, readStrands } from "../../store/strands.ts";
import { say } from "../../words/say.ts";
import { defineRead } from "../define.ts";

const text = z.string().max(400).describe(say`What somebody calls it.`);

const kindName = z.enum(KIND_NAMES as unknown as [KindName, ...KindName[]]);

/** A code read off a paper names its record's kind as well; any other text is taken as it is. */
function meant<I extends { readonly text: string; readonly kinds?: KindName[] | undefined }>(input: I): I {
  const code = readCode(input.text);
  const kind = KIND_NAMES.find((one) => one === code?.kind);
  if (!code || !kind || (input.kinds && !input.kinds.includes(kind))) return input;
  return { ...input, text: code.address, kinds: [kind] };
}

export interface FindAnswer {
  readonly hits: readonly Hit[];
  /** The list ends here because it reached the limit. */
  readonly more: boolean;
}

export const addressFind = defineRead({
  name: "address.find",
  help: say`Finds records by a tag, part of a tag, name, former tag, label text, strand address or the code on a printed paper, best first.`,
  input: z.strictObject({
    text,
    limit: z.int().min(1).max(200).default(20).describe(say`At most so many.`),
    kinds: z.array(kindName).min(1).optional().describe(say`Only records of these kinds.`),
  }),
  run: async ({ reader }, asked): Promise<FindAnswer> => {
    const input = meant(asked);
    const hits = await findRecords(reader, input.text, input.limit, input.kinds);
    return { hits, more: hits.length === input.limit };
  },
});

export interface ResolveAnswer {
  /** Every single record the text can mean; more than one is for the user to choose. */
  readonly matches: readonly Match[];
  /** Readings as strands of a cable, for ranges and colours. */
  readonly strands: readonly {
    readonly cable: RecordRef;
    readonly numbers: readonly number[];
    readonly words: string;
  }[];
  /** Readings as ports of a panel, module or device. */
  readonly ports: readonly { readonly owner: RecordRef; readonly tags: readonly string[] }[];
  /** Why a cable or panel was found but not what follows it. */
  readonly reasons: readonly string[];
  /** Tags that come close, where nothing was found. */
  readonly nearest: readonly string[];
}

/** An act refuses a strand that is named twice; whoever asks what an address means is told. */
function twiceNamed(cable: string, named: readonly NamedStrand[]): string[] {
  const seen = new Set<string>();
  const twice = named.filter(({ id, section }) => seen.size === seen.add(`${id}#${section ?? ""}`).size);
  return twice.length === 0 ? [] : [say`${cable}:${numberRuns(twice.map(({ number }) => number))} is named twice`];
}

export const addressResolve = defineRead({
  name: "address.resolve",
  help: say`Says what an address means: one record, a range of strands or ports, or several readings.`,
  input: z.strictObject({
    text,
    kinds: z.array(kindName).min(1).optional().describe(say`Only records of these kinds.`),
  }),
  run: async ({ reader }, asked): Promise<ResolveAnswer> => {
    const input = meant(asked);
    const kinds = input.kinds === undefined ? {} : { kinds: input.kinds };
    const matches = await resolve(reader, input.text, kinds);
    const glass = await readStrands(reader, input.text);
    const ports = await readPorts(reader, input.text);
    const strands = (
      await Promise.all(
        glass.readings.map(async ({ cable, strands }) => ({
          cable,
          strands: await withKnownSections(reader, strands),
        })),
      )
    ).filter((reading) => reading.strands.length > 0);
    const none = matches.length + strands.length + ports.readings.length === 0;
    const missing = none ? await missingPart(reader, input.text) : null;
    return {
      matches,
      strands: strands.map(({ cable, strands: named }) => {
        const numbers = named.map(({ number }) => number);
        return {
          cable: { kind: "cable", ...cable },
          numbers,
          words: `${cable.tag}:${numberRuns(numbers).replaceAll(" ", "")}`,
        };
      }),
      ports: ports.readings.map(({ owner: { kind, id, tag }, ports: named }) => ({
        owner: { kind, id, tag },
        tags: named.map(({ tag: own, position }) => (position === undefined ? own : `${own}#${position}`)),
      })),
      reasons: [
        ...glass.faults.map(({ reason }) => reason.reason),
        ...strands.flatMap(({ cable, strands: named }) => twiceNamed(cable.tag, named)),
        ...ports.faults.map(({ owner, reason }) => `${owner.tag} ${reason.reason}`),
        ...(missing ? [missing] : []),
      ],
      nearest: none ? await nearestTags(reader, input.text, input.kinds ?? KIND_NAMES) : [],
    };
  },
});
