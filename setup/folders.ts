/** Where this system keeps a user's documents and a program's own files. */
import { existsSync } from "node:fs";
import { homedir } from "node:os";
import { join } from "node:path";

/** A folder for what the program keeps for itself. STRANDBOOK_DATA names another. */
export function dataFolder(env: NodeJS.ProcessEnv = process.env, platform: string = process.platform): string {
  if (env.STRANDBOOK_DATA) return env.STRANDBOOK_DATA;
  if (platform === "win32") return join(env.LOCALAPPDATA ?? join(homedir(), "AppData", "Local"), "Strandbook");
  if (platform === "darwin") return join(homedir(), "Library", "Application Support", "Strandbook");
  return join(env.XDG_DATA_HOME ?? join(homedir(), ".local", "share"), "strandbook");
}

/** Where the user will look for a plant file: among the documents, else with the program's own files. */
export function plantFolder(env: NodeJS.ProcessEnv = process.env, platform: string = process.platform): string {
  const documents = join(homedir(), "Documents");
  return env.STRANDBOOK_DATA || !existsSync(documents) ? dataFolder(env, platform) : join(documents, "Strandbook");
}
