/** The glass on which sections lie: all of it where it is held in memory, otherwise as much as is joined to them. */
import { sectionEnd } from "../glass/end.ts";
import type { Glass } from "../glass/glass.ts";
import type { PlantGlass } from "../glass/held-glass.ts";
import { glassAround } from "../glass/line-glass.ts";
import type { Reader } from "../store/handle.ts";

export const glassOfSections = async (
  reader: Reader,
  sections: readonly number[],
  { today, held }: { readonly today: string; readonly held: PlantGlass | null },
): Promise<Glass> =>
  held
    ? held.on(reader, today)
    : glassAround(
        reader,
        sections.flatMap((id) => [sectionEnd(id, "A"), sectionEnd(id, "B")]),
        today,
      );
