import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

// One browser and one program for all files; files run one after the other, so that they share the machine fairly.
export default defineConfig({
  root: fileURLToPath(new URL(".", import.meta.url)),
  test: {
    include: ["**/*.e2e.ts"],
    fileParallelism: false,
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
