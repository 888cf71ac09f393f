/** The bytes of one file of this machine, up to a bound. */
import type { FolderPort } from "../ports.ts";
import { refuse } from "../result.ts";
import { say } from "../words/say.ts";

/** A path as its folder and its name. */
export function placed(path: string): { readonly folder: string; readonly name: string } {
  const at = Math.max(path.lastIndexOf("/"), path.lastIndexOf("\\"));
  return { folder: at < 0 ? "." : path.slice(0, at) || "/", name: path.slice(at + 1) };
}

/** @param what what it would be too big for: "a sheet" */
export async function fileBytes(folders: FolderPort, path: string, most: number, what: string): Promise<Uint8Array> {
  const { folder, name } = placed(path);
  const size = await folders.size(folder, name);
  if (size > most)
    refuse("file", say`${name} is too big for ${what}.`, [
      {
        file: name,
        reason: say`has ${Math.ceil(size / 1_000_000)} million bytes; at most ${Math.floor(most / 1_000_000)} are read`,
      },
    ]);
  const bytes = new Uint8Array(size);
  let used = 0;
  for await (const piece of folders.read(folder, name)) {
    // A file that grows while it is read is read as far as it was.
    const fits = piece.subarray(0, size - used);
    bytes.set(fits, used);
    used += fits.length;
  }
  return bytes.subarray(0, used);
}
