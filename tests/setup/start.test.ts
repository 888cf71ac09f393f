import { type ChildProcess, spawn } from "node:child_process";
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it, onTestFinished } from "vitest";
import { TOKEN_HEADER } from "../../core/operations/wire.ts";
import { createPlant } from "../../host/plant-file.ts";
import { buildElectron, buildRenderer } from "../../setup/build.ts";
import { newFolder } from "../support/plant.ts";

const START = fileURLToPath(new URL("../../setup/start.ts", import.meta.url));

interface Started {
  readonly child: ChildProcess;
  readonly out: () => string;
  readonly err: () => string;
  readonly code: Promise<number | null>;
  /** The address it printed. */
  address(): Promise<URL>;
}

interface Setting {
  readonly words: readonly string[];
  readonly env?: Record<string, string>;
  readonly folder?: string;
}

/** `npm start -- words`, as npm would run it, with no screen, browser or Electron but those in `env`. */
function start({ words, env = {}, folder = newFolder() }: Setting): Started {
  const { NODE_COMPILE_CACHE = "" } = process.env;
  const child = spawn(process.execPath, [START, ...words], {
    env: {
      NODE_COMPILE_CACHE,
      HOME: folder,
      PATH: "/nowhere",
      STRANDBOOK_DATA: join(folder, "data"),
      INIT_CWD: folder,
      CI: "1",
      ...env,
    },
  });
  onTestFinished(() => void child.kill("SIGKILL"));
  let out = "";
  let err = "";
  child.stdout.on("data", (piece) => {
    out += piece;
  });
  child.stderr.on("data", (piece) => {
    err += piece;
  });
  const code = new Promise<number | null>((resolve) => child.on("close", resolve));
  return {
    child,
    out: () => out,
    err: () => err,
    code,
    async address() {
      await Promise.race([code, expect.poll(() => out, { timeout: 110_000 }).toMatch(/#token=\S+\n/)]);
      const found = out.match(/http:\S+/);
      if (!found) throw new Error(`no address; it said: ${out}${err}`);
      return new URL(found[0]);
    },
  };
}

async function newPlantFile(folder: string): Promise<string> {
  const file = join(folder, "campus.strandbook");
  await createPlant(file, "Test Campus");
  return file;
}

function program(folder: string, name: string, script: string): string {
  const file = join(folder, name);
  writeFileSync(file, `#!/bin/sh\n${script}\n`);
  chmodSync(file, 0o755);
  return file;
}

beforeAll(async () => {
  await buildRenderer();
  await buildElectron();
}, 240_000);

describe("npm start -- --no-window FILE", () => {
  it("serves the file and prints the address, until Ctrl+C", async () => {
    const folder = newFolder();
    await newPlantFile(folder);
    const started = start({ words: ["--no-window", "campus.strandbook"], folder });
    const address = await started.address();
    expect(address.hostname).toBe("127.0.0.1");
    const page = await fetch(address.origin);
    expect(await page.text()).toContain("<title>");
    const reply = await fetch(`${address.origin}/call`, {
      method: "POST",
      headers: {
        origin: address.origin,
        "content-type": "application/json",
        [TOKEN_HEADER]: address.hash.replace("#token=", ""),
      },
      body: JSON.stringify({ id: "1", name: "plant.read" }),
    });
    expect(await reply.json()).toMatchObject({ ok: true, value: { name: "Test Campus" } });
    started.child.kill("SIGINT");
    expect(await started.code).toBe(0);
    expect(started.out()).toContain("Open this address in a browser on this machine");
    expect(started.err()).toBe("");
    // Nothing but the plant is left beside it.
    expect(readdirSync(folder).filter((name) => name !== "data")).toEqual(["campus.strandbook"]);
  });
  it("serves it a second time for reading only", async () => {
    const folder = newFolder();
    const file = await newPlantFile(folder);
    await start({ words: ["--no-window", file] }).address();
    const second = start({ words: ["--no-window", file] });
    const address = await second.address();
    const reply = await fetch(`${address.origin}/call`, {
      method: "POST",
      headers: {
        origin: address.origin,
        "content-type": "application/json",
        [TOKEN_HEADER]: address.hash.replace("#token=", ""),
      },
      body: JSON.stringify({ id: "1", name: "plant.status" }),
    });
    expect(((await reply.json()) as { value: { read_only: string } }).value.read_only).toContain(
      "has had it open for writing",
    );
  });
  it("says what is wrong with a file it can't open", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "letter.txt"), "Dear colleague");
    for (const [word, sentence] of [
      ["nowhere.strandbook", "nowhere.strandbook"],
      ["letter.txt", "letter.txt"],
    ] as const) {
      const started = start({ words: ["--no-window", word], folder });
      expect(await started.code).toBe(1);
      expect(started.err()).toContain(sentence);
      expect(started.err()).not.toContain("    at ");
    }
    expect(readFileSync(join(folder, "letter.txt"), "utf8")).toBe("Dear colleague");
  });
  it("says how it is used when its words can't be read", async () => {
    for (const words of [["--nonsense"], ["a", "b"], ["--help"]]) {
      const started = start({ words });
      expect(await started.code).toBe(2);
      expect(started.err()).toContain("npm start -- --no-window");
    }
  });
});

describe("npm start", () => {
  it("opens a copy of the demo campus among the user's own files, and keeps it", async () => {
    const folder = newFolder();
    const first = start({ words: ["--no-window"], folder });
    await first.address();
    const file = join(folder, "data", "Demo campus.strandbook");
    expect(existsSync(file)).toBe(true);
    expect(first.out()).toContain(file);
    first.child.kill("SIGINT");
    expect(await first.code).toBe(0);
    const second = start({ words: ["--no-window"], folder });
    await second.address();
    expect(second.out()).not.toContain("Making");
  });
  it("opens the address in an installed browser, and ends when its window is closed", async () => {
    const folder = newFolder();
    const browser = program(folder, "browser", `echo "$@" > "${folder}/words"`);
    const started = start({
      words: [await newPlantFile(folder)],
      folder,
      env: { DISPLAY: ":99", STRANDBOOK_BROWSER: browser },
    });
    expect(await started.code).toBe(0);
    const words = readFileSync(join(folder, "words"), "utf8");
    expect(words).toMatch(/^--app=http:\/\/127\.0\.0\.1:\d+\/#token=\S+ --user-data-dir=/);
    expect(words).toContain("--disable-background-networking");
  });
  it("prints the address with one plain sentence where there is no browser", async () => {
    const folder = newFolder();
    const started = start({ words: [await newPlantFile(folder)], folder });
    await started.address();
    await expect.poll(() => started.out()).toContain("open this address in one on this machine.");
    started.child.kill("SIGTERM");
    expect(await started.code).toBe(0);
  });
  it("opens Electron where its binary is, and ends with it", async () => {
    const folder = newFolder();
    mkdirSync(join(folder, "electron"));
    program(join(folder, "electron"), "electron", `echo "$@" > "${folder}/words"`);
    const file = await newPlantFile(folder);
    const started = start({
      words: [file],
      folder,
      env: { DISPLAY: ":99", ELECTRON_OVERRIDE_DIST_PATH: join(folder, "electron") },
    });
    expect(await started.code).toBe(0);
    expect(readFileSync(join(folder, "words"), "utf8")).toMatch(/dist\/electron\/main\.js .*campus\.strandbook\n$/);
  });
  it("falls back to a browser when Electron can't open its window", async () => {
    const folder = newFolder();
    mkdirSync(join(folder, "electron"));
    program(join(folder, "electron"), "electron", "exit 127");
    const browser = program(folder, "browser", `echo "$@" > "${folder}/words"`);
    const started = start({
      words: [await newPlantFile(folder)],
      folder,
      env: {
        DISPLAY: ":99",
        ELECTRON_OVERRIDE_DIST_PATH: join(folder, "electron"),
        STRANDBOOK_BROWSER: browser,
      },
    });
    expect(await started.code).toBe(0);
    expect(started.out()).toContain("could not open its window here; a browser is used instead.");
    expect(existsSync(join(folder, "words"))).toBe(true);
  });
});

describe("the bundle of the plant's process", () => {
  it("opens a plant by itself, migrations and driver included", async () => {
    const folder = newFolder();
    const file = await newPlantFile(folder);
    const bundle = join(await buildElectron(), "plant-process.js");
    const code = `
      const { EventEmitter } = await import("node:events");
      process.parentPort = Object.assign(new EventEmitter(), { postMessage: (m) => console.log(JSON.stringify(m)) });
      process.argv = ["node", "bundle", ${JSON.stringify(file)}];
      await import(${JSON.stringify(`file://${bundle}`)});
      process.parentPort.emit("message", { data: { type: "call", ticket: 1, call: { id: "1", name: "plant.read" } } });
      setTimeout(() => process.parentPort.emit("message", { data: { type: "close" } }), 300);`;
    const child = spawn(process.execPath, ["--input-type=module", "-e", code]);
    let out = "";
    child.stdout.on("data", (piece) => {
      out += piece;
    });
    const exit = await new Promise((resolve) => child.on("close", resolve));
    const messages = out
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(messages.map((message) => message.type)).toEqual(["opened", "reply", "closed"]);
    expect(JSON.parse(messages[1].text)).toMatchObject({ ok: true, value: { name: "Test Campus" } });
    expect(exit).toBe(0);
  });
});
