/** A cable and the one that carries on for it: both with their stops and the sections of each strand. */
import { refuse } from "../result.ts";
import { counted } from "../words/counted.ts";
import { say } from "../words/say.ts";
import { type SectionRow, sectionsByNumber } from "./cable-facing.ts";
import { type CableStretch, cableStretch } from "./cable-stretch.ts";
import type { ActContext } from "./context.ts";
import { named } from "./named.ts";

export interface CableWithGlass extends CableStretch {
  readonly sections: ReadonlyMap<number, readonly SectionRow[]>;
}

/**
 * Refuses a cable by itself, and one with fewer strands.
 * @param some only some strands are meant: the other may have fewer
 */
export async function pairOf(
  { reader }: ActContext,
  input: { readonly cable: string; readonly by: string },
  some = false,
): Promise<{ readonly old: CableWithGlass; readonly by: CableWithGlass }> {
  const withGlass = async (text: string): Promise<CableWithGlass> => {
    const stretch = await cableStretch(reader, text);
    return { ...stretch, sections: await sectionsByNumber(reader, stretch.cable.id) };
  };
  const old = await withGlass(input.cable);
  await named(reader, input.by, ["cable"], "by");
  const by = await withGlass(input.by);
  if (old.cable.id === by.cable.id) {
    refuse("bad_input", say`${old.cable.tag} can't take its own place.`, [
      { field: "by", record: by.cable.tag, reason: say`is the same` },
    ]);
  }
  if (!some && [...old.sections.keys()].some((number) => !by.sections.has(number))) {
    const reason = say`has ${counted(by.sections.size, "strand")}, and ${old.cable.tag} has ${old.sections.size}`;
    refuse("not_possible", `${by.cable.tag} ${reason}.`, [{ field: "by", record: by.cable.tag, reason }]);
  }
  return { old, by };
}
