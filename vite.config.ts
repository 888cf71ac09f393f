/** How the window is built. The result is served as it stands by the loopback host and by Electron's own scheme. */
import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";

export default defineConfig({
  root: new URL("renderer", import.meta.url).pathname,
  plugins: [react()],
  build: {
    outDir: "../dist/renderer",
    emptyOutDir: true,
    // Nothing is inlined: the content policy of both shells takes fonts and scripts from our own files only.
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    reportCompressedSize: false,
    chunkSizeWarningLimit: 2000,
  },
});
