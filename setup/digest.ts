/** Whether sources changed since something was built from them: a digest of their names and contents. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, relative, sep } from "node:path";

/** Every file below `path` (or `path` itself), sorted, with `/` between its parts. */
export function filesBelow(path: string): string[] {
  if (!statSync(path, { throwIfNoEntry: false })) return [];
  if (statSync(path).isFile()) return [path];
  return readdirSync(path, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

export function digestOf(root: string, sources: readonly string[]): string {
  const hash = createHash("sha256");
  for (const source of sources) {
    for (const file of filesBelow(join(root, source))) {
      hash.update(`${relative(root, file).split(sep).join("/")}\0`);
      hash.update(createHash("sha256").update(readFileSync(file)).digest());
    }
  }
  return hash.digest("hex");
}
