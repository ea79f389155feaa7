// Puts all of dist into one HTML file that opens from a disk: styles and scripts inside it, the wasm as compressed text.
// Its policy allows these by their digests and nothing else; there is no network in it and no worker.
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { gzipSync } from "node:zlib";

const [dist, target] = process.argv.slice(2);
if (!target) throw new Error("usage: node .ci/one-file.mjs DIST TARGET");
const read = (name) => readFileSync(join(dist, name), "utf8");
const digest = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

// Replaces exactly what is there: a page that was put together in another way is not passed over in silence.
function replaced(text, pattern, by) {
  if (!pattern.test(text)) throw new Error(`not found: ${pattern}`);
  pattern.lastIndex = 0;
  return text.replace(pattern, by);
}

let page = read("index.html");
const boot = page.match(/<script[^>]*id="boot"[^>]*>\s*<\/script>/)?.[0];
if (!boot) throw new Error("index.html has no boot script");
const path = (name) => boot.match(new RegExp(` ${name}="([^"]+)"`))[1];

// The app's module, made one with boot.js: what it exports is handed on by name.
let app = read(path("data-js"));
app = replaced(app, /^export \{ initSync, __wbg_init as default \};$/m, "");
app = app.replace(/^export (class|function|const) /gm, "$1 ");
const script = `{
${app}
const packed = Uint8Array.from(atob(document.getElementById("wasm").textContent), (letter) => letter.charCodeAt(0));
const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
globalThis.kerbworthInOneFile = { default: __wbg_init, bytes: await new Response(stream).arrayBuffer() };
}
${read(path("src"))}`;
const wasm = gzipSync(readFileSync(join(dist, path("data-wasm"))), { level: 9 }).toString("base64");

const styles = [];
page = replaced(page, /<link rel="stylesheet" href="([^"]+)"[^>]*>/g, (_, name) => {
  const style = read(name);
  styles.push(digest(style));
  return `<style>${style}</style>`;
});
const icon = `data:image/svg+xml;base64,${Buffer.from(read("icon.svg")).toString("base64")}`;
page = replaced(page, /<link rel="icon"[^>]*>/, `<link rel="icon" href="${icon}" type="image/svg+xml">`);
page = replaced(page, /\s*<link rel="(manifest|apple-touch-icon)"[^>]*>/g, "");
page = page.replace(/\s*<link rel="(modulepreload|preload)"[^>]*>/g, "");
page = replaced(page, new RegExp(boot.replace(/[.*+?^${}()|[\]\\]/g, "\\$&")), "");
// What stands in the page is never read for patterns: both hold dollar signs.
page = replaced(page, /<\/body>/, () => `<script type="text/plain" id="wasm">${wasm}</script>\n<script type="module" id="boot">${script}</script>\n</body>`);
page = replaced(
  page,
  /content="default-src 'none';[^"]*"/,
  () =>
    `content="default-src 'none'; script-src ${digest(script)} 'wasm-unsafe-eval'; style-src ${styles.join(" ")}; ` +
    `img-src data: blob:; base-uri 'none'; form-action 'none'"`,
);
if (script.includes("</script")) throw new Error("a script that would end itself");
mkdirSync(dirname(target), { recursive: true });
writeFileSync(target, page);
console.log(`${target}: ${page.length} bytes`);
