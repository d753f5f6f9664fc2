import { defineConfig } from "vite";

// The page is served from inside the Python package; its files carry a digest in their names.
export default defineConfig({
  base: "./",
  build: {
    outDir: "../src/fencewright/page",
    emptyOutDir: true,
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { proxy: { "/api": "http://127.0.0.1:8787" } },
});
