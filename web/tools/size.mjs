// Adds up what the first page costs over the wire, compressed: the entry, what it loads at once, the first sheet and
// the fonts. 3-D is loaded on demand and does not count. Fails above the budget.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const BUDGET = 120_000; // bytes
const dist = new URL("../dist/", import.meta.url).pathname;
const html = readFileSync(join(dist, "index.html"), "utf8");
const first = new Set(["index.html"]);
for (const m of html.matchAll(/(?:src|href)="\.\/([^"]+)"/g)) first.add(m[1]);
const assets = readdirSync(join(dist, "assets"));
// The start sheet is loaded by the entry; so is whatever either of them imports without being asked to wait.
const queue = [...first, ...assets.filter((a) => /^StartSheet-/.test(a)).map((a) => `assets/${a}`)];
for (let file = queue.pop(); file; file = queue.pop()) {
  first.add(file);
  const text = /\.(js|css)$/.test(file) ? readFileSync(join(dist, file), "utf8") : "";
  for (const m of text.matchAll(/(?:from|import)\s*"\.\/([^"]+\.js)"|url\(\.?\/?(?:assets\/)?([^)"']+\.woff2)\)/g)) {
    const next = `assets/${(m[1] ?? m[2]).split("/").pop()}`;
    if (!first.has(next)) queue.push(next);
  }
}
let total = 0;
for (const file of [...first].sort()) {
  const bytes = readFileSync(join(dist, file));
  const size = /\.woff2$/.test(file) ? bytes.length : gzipSync(bytes, { level: 6 }).length;
  total += size;
  console.log(`${String(size).padStart(8)}  ${file}`);
}
console.log(`${String(total).padStart(8)}  bytes in all, of ${BUDGET}`);
if ([...first].some((f) => /threeBar/.test(f))) {
  console.error("3-D is loaded by the first page");
  process.exit(1);
}
if (total > BUDGET) process.exit(1);
