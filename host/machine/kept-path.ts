/** Where this machine keeps what its user prefers. */
import { homedir } from "node:os";
import { join } from "node:path";

/**
 * The file where this system keeps a user's settings: `%APPDATA%`, Application Support, else as the XDG base directory
 * specification says. STRANDBOOK_DATA names another folder.
 */
export function keptPath(env: NodeJS.ProcessEnv = process.env, platform: string = process.platform): string {
  const name = "preferences.json";
  if (env.STRANDBOOK_DATA) return join(env.STRANDBOOK_DATA, name);
  if (platform === "win32") return join(env.APPDATA || join(homedir(), "AppData", "Roaming"), "Strandbook", name);
  if (platform === "darwin") return join(homedir(), "Library", "Application Support", "Strandbook", name);
  // The specification: an empty value counts as none, and one that is not absolute is to be ignored.
  const config = env.XDG_CONFIG_HOME?.startsWith("/") ? env.XDG_CONFIG_HOME : join(homedir(), ".config");
  return join(config, "strandbook", name);
}
