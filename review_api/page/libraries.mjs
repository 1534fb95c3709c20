// Copies the page's libraries from node_modules to review_api/page/vendor, as the browser loads them.
// A browser cannot resolve `from "preact"`; each such name is written as the file beside it, so the page
// needs no bundler, no import map and no inline script. Run by `make page-libraries`.
import { copyFileSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const page = dirname(fileURLToPath(import.meta.url));
const modules = join(page, "..", "..", "node_modules");
const vendor = join(page, "vendor");

/** Bare name, file of the package, name beside the page. */
const LIBRARIES = [
  ["preact", "preact/dist/preact.mjs", "preact.js"],
  ["preact/hooks", "preact/hooks/dist/hooks.mjs", "preact-hooks.js"],
  ["@preact/signals-core", "@preact/signals-core/dist/signals-core.mjs", "signals-core.js"],
  ["@preact/signals", "@preact/signals/dist/signals.mjs", "signals.js"],
  ["htm", "htm/dist/htm.mjs", "htm.js"],
  ["wavesurfer.js", "wavesurfer.js/dist/wavesurfer.esm.js", "wavesurfer.js"],
  ["signature_pad", "signature_pad/dist/signature_pad.min.js", "signature_pad.js"],
];
const beside = new Map(LIBRARIES.map(([name, , file]) => [name, `./${file}`]));

/** The source with every bare import pointing at the file beside it; refuses a name it does not know. */
function resolved(source, file) {
  return source.replace(/(\bfrom\s*|\bimport\s*)(["'])([^"'./][^"']*)\2/g, (whole, keyword, quote, name) => {
    if (!beside.has(name)) throw new Error(`${file} imports ${name}: add it to LIBRARIES in libraries.mjs`);
    return `${keyword}${quote}${beside.get(name)}${quote}`;
  });
}

rmSync(vendor, { recursive: true, force: true });
mkdirSync(join(vendor, "licences"), { recursive: true });
for (const [name, from, to] of LIBRARIES) {
  const path = join(modules, from);
  if (!existsSync(path)) {
    console.error(`page libraries: ${from} is missing; run "npm ci" in the project's folder first`);
    process.exit(2);
  }
  const source = readFileSync(path, "utf8").replace(/\n?\/\/# sourceMappingURL=.*\s*$/, "\n");
  writeFileSync(join(vendor, to), resolved(source, from));
  const folder = name.startsWith("@") ? name.split("/").slice(0, 2).join("/") : name.split("/")[0];
  const licence = ["LICENSE", "LICENSE.txt", "LICENSE.md"].map((file) => join(modules, folder, file)).find(existsSync);
  if (licence) copyFileSync(licence, join(vendor, "licences", `${folder.replace(/[@/]/g, "_")}.txt`));
}
console.error(`page libraries: ${LIBRARIES.length} files in ${vendor}`);
