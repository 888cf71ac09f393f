/** How a hop is said in the ledger. */
import { KINDS } from "../../../core/model/dictionary.ts";
import type { ColourLayer, Hop, LengthFrom, Place, RecordRef } from "../../../core/trace/answer.ts";
import { say } from "../../../core/words/say.ts";
import { shortWord } from "../../drawing/colours.ts";

export const LENGTH_FROM: Readonly<Record<LengthFrom, string>> = {
  marks: say`marks`,
  pathway: say`pathway`,
  record: say`record`,
  planned: say`plan`,
  mixed: say`marks, pathway`,
};

export const LENGTH_FROM_LONG: Readonly<Record<LengthFrom, string>> = {
  marks: say`from the marks on the sheath`,
  pathway: say`by the pathways it lies in; no marks`,
  record: say`as written on its record`,
  planned: say`as planned, in part or whole; nobody has read its marks`,
  mixed: say`partly from marks, partly by pathway`,
};

const SPACES: Readonly<Record<string, string>> = KINDS.space.fields.kind.values;

/** "Kiln Hall" or what kind of place it is outside. */
export const placeWords = (place: Place): string =>
  place.building_name ?? place.building?.tag ?? SPACES[place.space_kind ?? ""] ?? "";

/** Ways a strand lies in on this hop: its pipes, or pathways where no pipe is known. */
export function waysOf(hop: Hop): readonly RecordRef[] {
  const pipes = hop.also.filter(({ kind }) => kind === "conduit");
  const covered = new Set(pipes.map(({ tag }) => tag.split("/")[0]));
  return [...pipes, ...hop.also.filter(({ kind, tag }) => kind === "pathway" && !covered.has(tag))];
}

/** Units in one line, strands in the next: "tube 3 green", "strands 7 red, 8 black". What lines share is said once. */
export function colourLines(hops: readonly Hop[]): readonly string[] {
  const units = (layers: readonly ColourLayer[]): string =>
    layers
      .filter(({ what }) => what !== "strand")
      .map(({ words }) => words)
      .join(", ");
  const strands = hops.flatMap(({ colours }) => colours.find(({ what }) => what === "strand") ?? []);
  const outer = [...new Set(hops.map(({ colours }) => units(colours)))].filter(Boolean);
  const inner = strands.length > 1 ? say`strands ${strands.map(shortWord).join(" · ")}` : (strands[0]?.words ?? "");
  return [outer.join(" · "), inner].filter(Boolean);
}

/** What a joint is called in a row: the tray of a splice, a cord's own tag; its whole description is in the leaf. */
export function jointName(hop: Hop): { readonly words: string; readonly tag: boolean } {
  if (hop.kind === "splice") {
    const kept = hop.also.find(({ kind }) => kind === "tray") ?? hop.also.find(({ kind }) => kind === "closure");
    return kept ? { words: kept.tag, tag: true } : { words: say`splice, tray not given`, tag: false };
  }
  if (hop.kind === "cord") {
    const own = /^cord (\S+) from /.exec(hop.record.tag)?.[1];
    return own ? { words: own, tag: true } : { words: say`cord without a tag`, tag: false };
  }
  if (hop.kind === "join") {
    const module = hop.also.find(({ kind }) => kind === "module");
    return { words: module?.tag ?? say`module`, tag: module !== undefined };
  }
  return { words: hop.record.tag, tag: true };
}

/** The part of a tag that differs from the one before: `F-014:31`, then `32`. */
export function shortTags(refs: readonly RecordRef[]): readonly { readonly ref: RecordRef; readonly words: string }[] {
  const seen = new Set<string>();
  let before = "";
  return refs.flatMap((ref) => {
    const key = `${ref.kind} ${ref.id}`;
    if (seen.has(key)) return [];
    seen.add(key);
    const at = ref.tag.lastIndexOf(":");
    const stem = at > 0 ? ref.tag.slice(0, at + 1) : ref.tag;
    const words = stem === before && at > 0 ? ref.tag.slice(at + 1) : ref.tag;
    before = stem;
    return [{ ref, words }];
  });
}
