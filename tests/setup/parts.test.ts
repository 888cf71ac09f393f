import { chmodSync, mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { delimiter, join } from "node:path";
import { describe, expect, it } from "vitest";
import { findBrowser } from "../../setup/browser.mjs";
import { digestOf } from "../../setup/digest.ts";
import { findElectron } from "../../setup/electron.ts";
import { isNewEnough } from "../../setup/ensure.mjs";
import { dataFolder, plantFolder } from "../../setup/folders.ts";
import { whatIsMissing } from "../../setup/installed.mjs";
import { hasScreen } from "../../setup/window.ts";
import { newFolder } from "../support/plant.ts";

describe("what a clone lacks", () => {
  const lock = {
    "": { version: "1.0.0" },
    "node_modules/alpha": { version: "1.2.3" },
    "node_modules/alpha/node_modules/beta": { version: "0.1.0" },
    "node_modules/other-system": { version: "9.9.9", optional: true },
  };
  const clone = (present: Record<string, object> | null): string => {
    const root = newFolder();
    writeFileSync(join(root, "package-lock.json"), JSON.stringify({ packages: lock }));
    for (const place of Object.keys(present ?? {})) mkdirSync(join(root, place), { recursive: true });
    mkdirSync(join(root, "node_modules"), { recursive: true });
    if (present) {
      writeFileSync(join(root, "node_modules", ".package-lock.json"), JSON.stringify({ packages: present }));
    }
    return root;
  };
  const { "": _root, "node_modules/other-system": _optional, ...whole } = lock;

  it("is everything when nothing is installed, or an install was broken off", () => {
    expect(whatIsMissing(clone(null))).toBe("nothing is installed yet");
  });
  it("is nothing when the lock file's packages are there, but for those of other systems", () => {
    expect(whatIsMissing(clone(whole))).toBe(null);
  });
  it("is a package of another version", () => {
    const present = { ...whole, "node_modules/alpha": { version: "1.2.2" } };
    expect(whatIsMissing(clone(present))).toBe("alpha is 1.2.2, wanted is 1.2.3");
  });
  it("is a package that npm never put there", () => {
    const { "node_modules/alpha/node_modules/beta": _, ...present } = whole;
    expect(whatIsMissing(clone(present))).toBe("beta is not installed");
  });
  it("is a package whose folder was deleted", () => {
    const root = clone(whole);
    rmSync(join(root, "node_modules/alpha"), { recursive: true });
    expect(whatIsMissing(root)).toBe("alpha has been removed");
  });
});

describe("a Node", () => {
  it("is new enough from 22.18 on", () => {
    expect(["v20.20.2", "v22.17.9", "v22.18.0", "v24.0.0", "v26.1.0"].map(isNewEnough)).toEqual([
      false,
      false,
      true,
      true,
      true,
    ]);
  });
});

describe("a browser", () => {
  const program = (folder: string, name: string, mode = 0o755): string => {
    const file = join(folder, name);
    writeFileSync(file, "#!/bin/sh\n");
    chmodSync(file, mode);
    return file;
  };
  it("is found on the path, in the order of the path", () => {
    const [first, second] = [newFolder(), newFolder()];
    program(second, "chromium");
    const found = program(first, "google-chrome");
    expect(findBrowser({ PATH: [first, second].join(delimiter) }, "linux")).toBe(found);
  });
  it("is the one that was named, or none", () => {
    const folder = newFolder();
    const named = program(folder, "my browser");
    program(folder, "chromium");
    expect(findBrowser({ PATH: folder, STRANDBOOK_BROWSER: named }, "linux")).toBe(named);
    expect(findBrowser({ PATH: folder, STRANDBOOK_BROWSER: join(folder, "none") }, "linux")).toBe(null);
  });
  it("is nothing that can't be run", () => {
    const folder = newFolder();
    program(folder, "chromium", 0o644);
    expect(findBrowser({ PATH: folder }, "linux")).toBe(null);
  });
  it("needs a screen", () => {
    expect(hasScreen({}, "linux")).toBe(false);
    expect(hasScreen({ DISPLAY: ":0" }, "linux")).toBe(true);
    expect(hasScreen({ WAYLAND_DISPLAY: "wayland-0" }, "linux")).toBe(true);
    expect(hasScreen({}, "darwin")).toBe(true);
  });
});

describe("Electron's binary", () => {
  const electronPackage = (version: string, unpacked: string | null, withBinary = true): string => {
    const folder = newFolder();
    writeFileSync(join(folder, "package.json"), JSON.stringify({ version }));
    if (unpacked === null) return folder;
    mkdirSync(join(folder, "dist"));
    writeFileSync(join(folder, "dist", "version"), `v${unpacked}\n`);
    writeFileSync(join(folder, "path.txt"), "electron");
    if (withBinary) writeFileSync(join(folder, "dist", "electron"), "");
    return folder;
  };
  it("is there when it was unpacked in the package's own version", () => {
    const folder = electronPackage("45.4.1", "45.4.1");
    expect(findElectron({}, folder)).toBe(join(folder, "dist", "electron"));
  });
  it("is not there in another version, half unpacked, or before any download", () => {
    expect(findElectron({}, electronPackage("45.4.1", "44.0.0"))).toBe(null);
    expect(findElectron({}, electronPackage("45.4.1", "45.4.1", false))).toBe(null);
    expect(findElectron({}, electronPackage("45.4.1", null))).toBe(null);
    expect(findElectron({}, join(newFolder(), "nowhere"))).toBe(null);
  });
  it("may lie where the environment says", () => {
    const folder = newFolder();
    const elsewhere = { ELECTRON_OVERRIDE_DIST_PATH: folder };
    expect(findElectron(elsewhere, electronPackage("45.4.1", "45.4.1"))).toBe(null);
    writeFileSync(join(folder, "electron"), "");
    expect(findElectron(elsewhere)).toBe(join(folder, "electron"));
  });
});

describe("whether something must be built again", () => {
  it("is told by names and contents, not by dates", () => {
    const root = newFolder();
    mkdirSync(join(root, "part"));
    writeFileSync(join(root, "part", "a.ts"), "1");
    const first = digestOf(root, ["part"]);
    writeFileSync(join(root, "part", "a.ts"), "1");
    expect(digestOf(root, ["part"])).toBe(first);
    writeFileSync(join(root, "part", "a.ts"), "2");
    const second = digestOf(root, ["part"]);
    expect(second).not.toBe(first);
    renameSync(join(root, "part", "a.ts"), join(root, "part", "c.ts"));
    expect(digestOf(root, ["part"])).not.toBe(second);
    renameSync(join(root, "part", "c.ts"), join(root, "part", "a.ts"));
    writeFileSync(join(root, "part", "b.ts"), "");
    expect(digestOf(root, ["part"])).not.toBe(second);
    rmSync(join(root, "part", "b.ts"));
    expect(digestOf(root, ["part"])).toBe(second);
    expect(digestOf(root, ["part", "nowhere"])).toBe(second);
  });
});

describe("the user's folders", () => {
  it("follow the system's custom", () => {
    expect(dataFolder({ XDG_DATA_HOME: "/home/a/.data" }, "linux")).toBe("/home/a/.data/strandbook");
    expect(dataFolder({ LOCALAPPDATA: "/local" }, "win32")).toBe("/local/Strandbook");
    expect(dataFolder({ STRANDBOOK_DATA: "/elsewhere" }, "linux")).toBe("/elsewhere");
    expect(plantFolder({ STRANDBOOK_DATA: "/elsewhere" }, "darwin")).toBe("/elsewhere");
  });
});
