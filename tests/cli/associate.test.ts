/** A double click on a plant file: registered for the user by the desktop's own specifications, and taken back whole. */
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { desktopEntry, MIME_TYPE, withDefault } from "../../host/association/freedesktop.ts";
import { registryAdds, registryDeletes } from "../../host/association/windows.ts";
import { newFolder } from "../support/plant.ts";
import { cli, newFile } from "./support.ts";

const has = (program: string): boolean => {
  try {
    execFileSync("which", [program]);
    return true;
  } catch {
    return false;
  }
};
/** What the desktop's own program says. */
const told = (program: string, ...words: readonly string[]): string =>
  execFileSync(program, words, { encoding: "utf8", env: process.env }).trim();

describe.runIf(process.platform === "linux")("where the desktop follows freedesktop", () => {
  let data = "";
  let config = "";
  beforeEach(() => {
    data = join(newFolder(), "share");
    config = join(newFolder(), "config");
    vi.stubEnv("XDG_DATA_HOME", data);
    vi.stubEnv("XDG_CONFIG_HOME", config);
  });
  afterEach(() => {
    vi.unstubAllEnvs();
  });

  it("a plant file has a type of its own and this program is what opens it", async () => {
    const { code, out } = await cli(["associate"]);
    expect(code).toBe(0);
    expect(out).toContain(join(data, "applications/strandbook.desktop"));
    const entry = readFileSync(join(data, "applications/strandbook.desktop"), "utf8");
    // The program it names is there.
    const [, program = "", script = ""] = /^Exec="([^"]+)" "([^"]+)" %f$/m.exec(entry) ?? [];
    expect([existsSync(program), existsSync(script)]).toEqual([true, true]);
    expect(existsSync(join(data, "icons/hicolor/scalable/apps/strandbook.svg"))).toBe(true);
  });

  it.runIf(has("xdg-mime"))("and xdg-mime says the same of the type", async () => {
    await cli(["associate"]);
    expect(told("xdg-mime", "query", "default", MIME_TYPE)).toBe("strandbook.desktop");
    await cli(["associate", "--undo"]);
    expect(told("xdg-mime", "query", "default", MIME_TYPE)).toBe("");
  });

  it.runIf(has("gio") && has("update-mime-database"))(
    "and gio knows the file by its ending, and by its bytes alone",
    async () => {
      const file = await newFile();
      await cli(["associate"]);
      const type = (path: string) =>
        /standard::content-type: (.*)/.exec(told("gio", "info", "-a", "standard::content-type", path))?.[1];
      expect(type(file)).toBe(MIME_TYPE);
      const bare = `${file}-without`;
      renameSync(file, bare);
      expect(type(bare)).toBe(MIME_TYPE);
      expect(told("gio", "mime", MIME_TYPE)).toContain("strandbook.desktop");
    },
  );

  it.runIf(has("desktop-file-validate"))("and the entry is a valid one", async () => {
    await cli(["associate"]);
    expect(told("desktop-file-validate", join(data, "applications/strandbook.desktop"))).toBe("");
  });

  it("is taken back whole; what others wrote stays word for word", async () => {
    mkdirSync(config, { recursive: true });
    const others = "[Default Applications]\ntext/plain=editor.desktop\n\n[Added Associations]\ntext/html=a.desktop;\n";
    writeFileSync(join(config, "mimeapps.list"), others);
    await cli(["associate"]);
    await cli(["associate"]);
    const now = readFileSync(join(config, "mimeapps.list"), "utf8");
    expect(now.split("\n").filter((line) => line.includes(MIME_TYPE))).toHaveLength(1);
    expect((await cli(["associate", "--undo"])).code).toBe(0);
    expect(readFileSync(join(config, "mimeapps.list"), "utf8")).toBe(others);
    const left = readdirSync(data, { recursive: true, encoding: "utf8" }).filter((path) => path.includes("strandbook"));
    // The index of types names each type in a file of its own until it is made anew.
    expect(left).toEqual([]);
  });

  it("is nothing to take back where nothing was registered", async () => {
    expect((await cli(["associate", "--undo"])).code).toBe(0);
    expect(existsSync(join(config, "mimeapps.list"))).toBe(false);
  });
});

describe("the desktop entry", () => {
  it("quotes what a path may hold, as the Desktop Entry specification asks", () => {
    expect(desktopEntry(["/opt/my node", '/a "b" $c%d'])).toContain(
      'Exec="/opt/my node" "/a \\\\"b\\\\" \\\\$c%%d" %f',
    );
  });
  it("stands in the place of another default of the same type", () => {
    expect(withDefault(`[Default Applications]\n${MIME_TYPE}=old.desktop\n`, "strandbook.desktop")).toBe(
      `[Default Applications]\n${MIME_TYPE}=strandbook.desktop\n`,
    );
  });
});

describe("on Windows", () => {
  it("only the user's own classes are written, and every one of them is taken back", () => {
    const adds = registryAdds(["C:\\node.exe", "C:\\Strand Book\\start.ts"]);
    expect(adds.flat()).toContain('"C:\\node.exe" "C:\\Strand Book\\start.ts" "%1"');
    for (const [verb, key = ""] of [...adds, ...registryDeletes()]) {
      expect(["add", "delete"]).toContain(verb);
      expect(key.startsWith("HKCU\\Software\\Classes\\")).toBe(true);
    }
    const gone = registryDeletes().map(([, key = ""]) => key);
    for (const [, key = ""] of adds)
      expect(
        gone.some((own) => key.startsWith(own)),
        key,
      ).toBe(true);
  });
});
