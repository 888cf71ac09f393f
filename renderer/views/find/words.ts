/** How a hop is said in the ledger. */
import type { ColourLayer, Hop, LengthFrom, Place, RecordRef } from "../../../core/trace/answer.ts";

export const LENGTH_FROM: Readonly<Record<LengthFrom, string>> = {
  marks: "marks",
  pathway: "pathway",
  record: "record",
  mixed: "marks, pathway",
};

export const LENGTH_FROM_LONG: Readonly<Record<LengthFrom, string>> = {
  marks: "from the marks on the sheath",
  pathway: "by the pathways it lies in; no marks",
  record: "as written on its record",
  mixed: "partly from marks, partly by pathway",
};

/** "Kiln Hall" or what kind of place it is outside. */
export const placeWords = (place: Place): string =>
  place.building_name ?? place.building?.tag ?? (place.space_kind ? place.space_kind.replaceAll("_", " ") : "");

/** Ways a strand lies in on this hop: its pipes, or pathways where no pipe is known. */
export function waysOf(hop: Hop): readonly RecordRef[] {
  const pipes = hop.also.filter(({ kind }) => kind === "conduit");
  const covered = new Set(pipes.map(({ tag }) => tag.split("/")[0]));
  return [...pipes, ...hop.also.filter(({ kind, tag }) => kind === "pathway" && !covered.has(tag))];
}

/** Units in one line, strand in the next: "tube 3 green", "strand 7 red". Merged lines say what they share once. */
export function colourLines(hops: readonly Hop[]): readonly string[] {
  const units = (layers: readonly ColourLayer[]): string =>
    layers
      .filter(({ what }) => what !== "strand")
      .map(({ words }) => words)
      .join(", ");
  const strands = hops.flatMap(({ colours }) => colours.find(({ what }) => what === "strand")?.words ?? []);
  const outer = [...new Set(hops.map(({ colours }) => units(colours)))].filter(Boolean);
  return [outer.join(" and "), strands.join(" and ")].filter(Boolean);
}

/** The part of a tag that differs from the one before: `F-014:31`, then `32`. */
export function shortTags(refs: readonly RecordRef[]): readonly { readonly ref: RecordRef; readonly words: string }[] {
  const seen = new Set<string>();
  let before = "";
  return refs.flatMap((ref) => {
    const key = `${ref.kind} ${ref.id}`;
    if (seen.has(key)) return [];
    seen.add(key);
    const at = Math.max(ref.tag.lastIndexOf(":"), ref.tag.lastIndexOf("#"));
    const stem = at > 0 ? ref.tag.slice(0, at + 1) : ref.tag;
    const words = stem === before && at > 0 ? ref.tag.slice(at + 1) : ref.tag;
    before = stem;
    return [{ ref, words }];
  });
}
