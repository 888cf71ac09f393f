/** Folders for exchange: plain names, ordinary files, each written whole or not at all. */
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, truncateSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { folders } from "../../host/folders.ts";
import { newFolder } from "../support/plant.ts";

const text = async function* (...pieces: string[]) {
  yield* pieces;
};

async function bytesOf(folder: string, name: string): Promise<Buffer> {
  const pieces: Uint8Array[] = [];
  for await (const piece of folders.read(folder, name)) pieces.push(piece);
  return Buffer.concat(pieces);
}

describe("writing a file", () => {
  it("makes the folder, and the file appears only when it is whole", async () => {
    const folder = join(newFolder(), "out");
    let during: string[] = [];
    const pieces = async function* () {
      yield "tag,name\n";
      during = readdirSync(folder);
      yield "LIB,Bücherei 图书馆\n";
    };
    await folders.write(folder, "building.csv", pieces());
    expect(during).not.toContain("building.csv");
    expect(readdirSync(folder)).toEqual(["building.csv"]);
    expect(readFileSync(join(folder, "building.csv"), "utf8")).toBe("tag,name\nLIB,Bücherei 图书馆\n");
  });

  it("replaces a file of the same name, or leaves it when it is stopped midway", async () => {
    const folder = newFolder();
    await folders.write(folder, "a.csv", text("first"));
    const stopped = async function* () {
      yield "half";
      throw new Error("stopped");
    };
    await expect(folders.write(folder, "a.csv", stopped())).rejects.toThrow("stopped");
    expect(readFileSync(join(folder, "a.csv"), "utf8")).toBe("first");
    await folders.write(folder, "a.csv", text("sec", "ond"));
    expect(readFileSync(join(folder, "a.csv"), "utf8")).toBe("second");
    expect(readdirSync(folder)).toEqual(["a.csv"]);
  });

  it("keeps characters whole that stand where two pieces meet", async () => {
    const folder = newFolder();
    const piece = `${"x".repeat(256 * 1024 - 1)}😀`;
    await folders.write(folder, "long.csv", text(piece, piece, "end"));
    expect((await bytesOf(folder, "long.csv")).toString("utf8")).toBe(`${piece}${piece}end`);
  });

  it("needs the folder above it", async () => {
    await expect(folders.write(join(newFolder(), "no", "out"), "a.csv", text("x"))).rejects.toThrow(
      "There is no folder",
    );
  });

  it("refuses where a file stands in place of the folder, or a folder in place of the file", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "file"), "");
    mkdirSync(join(folder, "a.csv"));
    await expect(folders.write(join(folder, "file"), "a.csv", text("x"))).rejects.toThrow("is a file, not a folder");
    await expect(folders.write(folder, "a.csv", text("x"))).rejects.toThrow("is not an ordinary file");
  });

  it("doesn't write through a link", async () => {
    const [folder, elsewhere] = [newFolder(), newFolder()];
    writeFileSync(join(elsewhere, "precious"), "precious");
    symlinkSync(join(elsewhere, "precious"), join(folder, "a.csv"));
    await expect(folders.write(folder, "a.csv", text("x"))).rejects.toThrow("is not an ordinary file");
    expect(readFileSync(join(elsewhere, "precious"), "utf8")).toBe("precious");
  });
});

describe("reading a file", () => {
  it("gives its bytes in pieces, from the start", async () => {
    const folder = newFolder();
    const content = Buffer.alloc(3_000_000, "abcdefg");
    writeFileSync(join(folder, "big.csv"), content);
    let pieces = 0;
    for await (const _ of folders.read(folder, "big.csv")) pieces++;
    expect(pieces).toBeGreaterThan(1);
    expect((await bytesOf(folder, "big.csv")).equals(content)).toBe(true);
    expect(await folders.size(folder, "big.csv")).toBe(3_000_000);
  });

  it.runIf(existsSync("/proc/self/fd"))("lets go of the file when the reader stops early", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "big.csv"), Buffer.alloc(3_000_000));
    for await (const _ of folders.read(folder, "big.csv")) break;
    const open = readdirSync("/proc/self/fd").length;
    for (let n = 0; n < 20; n++) for await (const _ of folders.read(folder, "big.csv")) break;
    await expect.poll(() => readdirSync("/proc/self/fd").length).toBeLessThanOrEqual(open + 1);
  });

  it("refuses a file that isn't there, a folder, a link and a pipe", async () => {
    const folder = newFolder();
    mkdirSync(join(folder, "sub.csv"));
    symlinkSync("/etc/hostname", join(folder, "link.csv"));
    execFileSync("mkfifo", [join(folder, "pipe.csv")]);
    await expect(bytesOf(folder, "none.csv")).rejects.toThrow("There is no none.csv.");
    for (const name of ["sub.csv", "link.csv", "pipe.csv"]) {
      await expect(bytesOf(folder, name), name).rejects.toThrow("is not an ordinary file");
      await expect(folders.size(folder, name), name).rejects.toThrow("is not an ordinary file");
    }
  });

  it("refuses a file too large to be a table", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "huge.csv"), "");
    truncateSync(join(folder, "huge.csv"), 4_100_000_000);
    await expect(folders.size(folder, "huge.csv")).rejects.toThrow("larger than 4 GB");
  });

  it.each(["../a.csv", "a/b.csv", "a\\b.csv", "..", ".", "", ".hidden", "C:x", "nul\0l", "x".repeat(300)])(
    "refuses %j as a name",
    async (name) => {
      await expect(bytesOf(newFolder(), name)).rejects.toThrow("is not a plain file name");
      await expect(folders.write(newFolder(), name, text("x"))).rejects.toThrow("is not a plain file name");
    },
  );
});

describe("listing a folder", () => {
  it("names its ordinary files, and whatever is named like a table so that it can be refused, sorted", async () => {
    const folder = newFolder();
    for (const name of ["b.csv", "a.csv"]) writeFileSync(join(folder, name), "");
    mkdirSync(join(folder, "sub"));
    symlinkSync("/etc/hostname", join(folder, "link.csv"));
    expect(await folders.list(folder)).toEqual(["a.csv", "b.csv", "link.csv"]);
    await expect(folders.size(folder, "link.csv")).rejects.toThrow("link.csv is not an ordinary file.");
  });

  it("refuses what is no folder, in words", async () => {
    const folder = newFolder();
    writeFileSync(join(folder, "file"), "");
    await expect(folders.list(join(folder, "file"))).rejects.toThrow("is a file, not a folder");
    await expect(folders.list(join(folder, "none"))).rejects.toThrow("There is no none.");
  });
});
