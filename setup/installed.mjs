// Whether what package-lock.json asks for is what node_modules holds. Runs on the host's own Node, before anything is installed.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";

/**
 * Why an install is needed, as a few words, or null when none is. Compares contents, not dates: a fresh checkout of the same
 * lock file needs nothing, and an install that was broken off (npm writes its own record last) is seen.
 * @param {string} root the project's folder
 * @returns {string | null}
 */
export function whatIsMissing(root) {
  const wanted = packagesOf(join(root, "package-lock.json"));
  if (!wanted) throw new Error("package-lock.json is missing from this folder.");
  const present = packagesOf(join(root, "node_modules", ".package-lock.json"));
  if (!present) return "nothing is installed yet";
  for (const [place, entry] of Object.entries(wanted)) {
    if (place === "" || entry.link || entry.optional || entry.devOptional) continue;
    const found = present[place];
    const name = place.replace(/^.*node_modules\//, "");
    if (!found) return `${name} is not installed`;
    if (found.version !== entry.version) return `${name} is ${found.version}, wanted is ${entry.version}`;
    if (!existsSync(join(root, place))) return `${name} has been removed`;
  }
  return null;
}

/**
 * @typedef {{ version?: string, link?: boolean, optional?: boolean, devOptional?: boolean }} Entry
 * @param {string} file
 * @returns {Record<string, Entry> | null}
 */
function packagesOf(file) {
  if (!existsSync(file)) return null;
  return JSON.parse(readFileSync(file, "utf8")).packages ?? {};
}
