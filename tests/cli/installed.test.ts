import { spawn } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { newFolder } from "../support/plant.ts";
import { add, cli } from "./support.ts";

describe("the command as it is installed", () => {
  const SHIM = fileURLToPath(new URL("../../host/cli/strandbook.mjs", import.meta.url));

  function run(
    node: string,
    words: readonly string[],
    input = "",
  ): Promise<{ code: number | null; out: string; err: string }> {
    const child = spawn(node, [SHIM, ...words]);
    let [out, err] = ["", ""];
    child.stdout.on("data", (piece) => {
      out += piece;
    });
    child.stderr.on("data", (piece) => {
      err += piece;
    });
    child.stdin.end(input);
    return new Promise((resolve) => child.on("close", (code) => resolve({ code, out, err })));
  }

  it("runs on the project's Node, with the exit codes of the program", async () => {
    const file = join(newFolder(), "campus.strandbook");
    expect(await run(process.execPath, ["new", file])).toMatchObject({ code: 0, err: "" });
    expect(await run(process.execPath, ["run", file, "record.add", "--input", "-"], add("LIB"))).toMatchObject({
      code: 0,
    });
    expect((await run(process.execPath, ["undo", file, "7"])).code).toBe(1);
    expect((await run(process.execPath, ["undo"])).code).toBe(2);
    const listed = await run(process.execPath, ["list", file, "building", "--json"]);
    expect(JSON.parse(listed.out)).toHaveLength(1);
  });
  it("runs where the host's Node is too old for the database driver", async ({ skip }) => {
    // npm tells which Node runs it; inside the tests that is the host's own.
    const host = process.env.npm_node_execpath;
    if (!host || host === process.execPath)
      return skip("the tests were not started by npm, or npm runs on the same Node");
    const file = join(newFolder(), "campus.strandbook");
    expect(await run(host, ["new", file])).toMatchObject({ code: 0, err: "" });
    expect((await run(host, ["list", file, "building", "--json"])).out).toBe("[]\n");
  });
  it("ends quietly when nobody reads on", async () => {
    const child = spawn("sh", ["-c", `"${process.execPath}" "${SHIM}" operations --json | head -c 10; echo; echo end`]);
    let [out, err] = ["", ""];
    child.stdout.on("data", (piece) => {
      out += piece;
    });
    child.stderr.on("data", (piece) => {
      err += piece;
    });
    await new Promise((resolve) => child.on("close", resolve));
    expect(err).toBe("");
    expect(out).toContain("end");
  });
  it("stops at Ctrl+C with nothing changed", async () => {
    const folder = newFolder();
    const file = join(folder, "campus.strandbook");
    mkdirSync(join(folder, "out"));
    await run(process.execPath, ["new", file]);
    const stop = new AbortController();
    stop.abort();
    const stopped = await cli(["export", file, join(folder, "out"), "--json"], { stop });
    expect([stopped.code, stopped.json<{ error: { code: string } }>().error.code]).toEqual([1, "stopped"]);
  });
});
