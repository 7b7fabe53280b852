import { fileURLToPath } from "node:url";
import { defineConfig } from "vite";

// The page is embedded in the program and served under a policy of `default-src 'self'`: paths are relative, nothing
// is inlined as a data: address, and the modulepreload helper is left out because it would add an inline script.
export default defineConfig({
  base: "./",
  resolve: { alias: { "@": fileURLToPath(new URL("./src", import.meta.url)) } },
  build: {
    target: "es2022",
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
    chunkSizeWarningLimit: 800,
  },
  server: {
    proxy: process.env.ROLLWRIGHT_ADDRESS ? { "/api": { target: process.env.ROLLWRIGHT_ADDRESS } } : undefined,
  },
});
