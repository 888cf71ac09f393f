#!/usr/bin/env node
// The command `strandbook`. The database driver needs a newer Node than the host may have and crashes on an older one, so
// the program itself always runs on the Node that the project installs; a fresh clone is made ready first.
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { ensureInstalled, isNewEnough, projectNode } from "../../setup/ensure.mjs";

const main = fileURLToPath(new URL("start.ts", import.meta.url));
ensureInstalled();
const node = existsSync(projectNode()) ? projectNode() : process.execPath;
if (!isNewEnough(process.version) && node === process.execPath) process.exit(3);

const child = spawn(node, [main, ...process.argv.slice(2)], { stdio: "inherit" });
// Ctrl+C reaches the program too, which stops what it does and says so; here it is only waited for.
process.on("SIGINT", () => {});
process.on("SIGTERM", () => child.kill("SIGTERM"));
child.on("exit", (code, signal) => process.exit(code ?? (signal === "SIGINT" ? 130 : 3)));
