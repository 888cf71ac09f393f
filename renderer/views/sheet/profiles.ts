/** How sheets of one source are read, kept in the plant file by the source's name, for everybody who opens it. */
import { useCallback, useEffect, useState } from "react";
import { useClient } from "../../client/context.ts";
import { useAct } from "../../client/use-act.ts";
import { guessedMapping, type Mapping, type Reading, type ReadSheet } from "./mapping.ts";

export interface Profile {
  readonly name: string;
  /** The heading under which it was mapped. */
  readonly heading: readonly string[];
  readonly reading: Pick<Reading, "encoding" | "delimiter">;
  /** Columns by their headings, so that they are found where they have moved to. */
  readonly mapping: Mapping;
}

const headingOf = (read: ReadSheet): string[] => read.heading.columns.map(({ heading }) => heading);

/** A profile of what is on screen. */
export function profileOf(name: string, read: ReadSheet, reading: Reading, mapping: Mapping): Profile {
  const named = (letters: string) => read.heading.columns.find((one) => one.letters === letters)?.heading || letters;
  const columns = Object.fromEntries(
    Object.entries(mapping.columns).flatMap(([column, letters]) => (letters ? [[column, named(letters)]] : [])),
  );
  const { encoding, delimiter } = reading;
  return { name, heading: headingOf(read), reading: { encoding, delimiter }, mapping: { ...mapping, columns } };
}

/** The mapping of a profile on a sheet; a column that the sheet hasn't stays unmapped, and is asked for. */
export function mappedBy({ mapping }: Profile, read: ReadSheet): Mapping {
  const lettersOf = (heading: string) =>
    read.heading.columns.find((one) => one.heading === heading || one.letters === heading)?.letters ?? "";
  const columns = Object.fromEntries(Object.entries(mapping.columns).map(([column, at]) => [column, lettersOf(at)]));
  return { ...guessedMapping(read), ...mapping, sheet: read.sheet, columns };
}

/** The newest profile made under just this heading. */
export const fittingProfile = (profiles: readonly Profile[], read: ReadSheet): Profile | null =>
  profiles.find(({ heading }) => heading.join("\u001f") === headingOf(read).join("\u001f")) ?? null;

export function useProfiles(): {
  readonly profiles: readonly Profile[];
  readonly keep: (profile: Profile) => Promise<boolean>;
} {
  const client = useClient();
  const { act } = useAct();
  const [profiles, setProfiles] = useState<readonly Profile[]>([]);
  const load = useCallback(async () => {
    const reply = await client.call("desk.list", { form: "sheet", whole: true });
    if (reply.ok)
      setProfiles(reply.value.items.map(({ name, content }) => ({ ...(content as Omit<Profile, "name">), name })));
  }, [client]);
  useEffect(() => void load(), [load]);
  const keep = useCallback(
    async ({ name, ...content }: Profile) => {
      const reply = await act("desk.keep", { form: "sheet", name, content, one: true });
      if (!reply?.ok) return false;
      await load();
      return true;
    },
    [act, load],
  );
  return { profiles, keep };
}
