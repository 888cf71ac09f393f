/** How Electron's parts are bundled: the main process and the plant's process as modules, the preload as one script. */
import { join, relative, sep } from "node:path";
import type { InlineConfig, Plugin } from "vite";

/** Left out of bundles: Electron itself, the database driver with its binary, and the writers of PDF and codes with their data. */
const EXTERNAL = ["electron", "better-sqlite3", "pdfkit", "bwip-js"];

/**
 * Keeps `import.meta.url` meaning the source file, so that code which finds the migrations or the samples beside itself finds
 * them from a bundle too.
 */
function keepPlaces(outDir: string): Plugin {
  return {
    name: "keep-places",
    transform(code, id) {
      const file = id.split("?")[0] ?? id;
      if (file.includes("node_modules") || !code.includes("import.meta.url")) return null;
      const place = relative(outDir, file).split(sep).join("/");
      return {
        code: code.replaceAll("import.meta.url", `new URL(${JSON.stringify(place)}, import.meta.url).href`),
        map: null,
      };
    },
  };
}

export function mainBundles(root: string, outDir: string): InlineConfig {
  return {
    root,
    configFile: false,
    plugins: [keepPlaces(outDir)],
    ssr: { noExternal: true, external: EXTERNAL },
    build: {
      outDir,
      ssr: true,
      target: "node24",
      minify: false,
      rolldownOptions: {
        input: {
          main: join(root, "electron/main.ts"),
          "plant-process": join(root, "electron/plant-process.ts"),
        },
        output: { format: "es", entryFileNames: "[name].js", chunkFileNames: "[name]-[hash].js" },
      },
    },
  };
}

/** A sandboxed preload can load neither modules nor a second file. */
export function preloadBundle(root: string, outDir: string): InlineConfig {
  return {
    root,
    configFile: false,
    ssr: { noExternal: true, external: EXTERNAL },
    build: {
      outDir,
      ssr: true,
      target: "chrome140",
      minify: false,
      rolldownOptions: {
        input: { preload: join(root, "electron/preload.ts") },
        output: { format: "cjs", entryFileNames: "preload.cjs", codeSplitting: false },
      },
    },
  };
}
