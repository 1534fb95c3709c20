// Puts the page together in built/: modules, styles and libraries in a few files named after the hash of their bytes,
// so that a browser asks for little and keeps it for good. Run by `make page`; the service needs no Node.
import { build } from "esbuild";
import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { fileURLToPath } from "node:url";

const page = dirname(fileURLToPath(import.meta.url));
const project = join(page, "..", "..");
const built = join(page, "built");
const LIBRARIES = ["preact", "@preact/signals", "@preact/signals-core", "htm", "wavesurfer.js", "signature_pad"];

rmSync(built, { recursive: true, force: true });
mkdirSync(join(built, "licences"), { recursive: true });

const common = { absWorkingDir: page, bundle: true, minify: true, outdir: built, target: ["chrome110", "firefox115", "safari16.4"], logLevel: "warning", legalComments: "none", metafile: true };
const scripts = await build({ ...common, entryPoints: ["main.js"], format: "esm", splitting: true, entryNames: "page-[hash]", chunkNames: "part-[hash]" });
const styles = await build({ ...common, entryPoints: ["style/page.css"], entryNames: "page-[hash]" });
const theme = await build({ ...common, entryPoints: ["theme.js"], format: "iife", write: false });

/** The name of the file that was made of an entry. */
const made = ({ metafile }, entry) => relative(built, join(page, Object.entries(metafile.outputs).find(([, output]) => output.entryPoint === entry)[0]));

/** The text with one part of it replaced; a part that is not there is an error. */
function put(text, part, other) {
  if (!text.includes(part)) throw new Error(`index.html lacks ${part}`);
  return text.replace(part, () => other);
}

let index = readFileSync(join(page, "index.html"), "utf8");
index = put(index, `href="style/page.css"`, `href="${made(styles, "style/page.css")}"`);
index = put(index, `src="main.js"`, `src="${made(scripts, "main.js")}"`);
index = put(index, `<script src="theme.js"></script>`, `<script>${theme.outputFiles[0].text.trim()}</script>`);
writeFileSync(join(built, "index.html"), index);
copyFileSync(join(page, "icon.svg"), join(built, "icon.svg"));

for (const name of LIBRARIES) {
  const licence = ["LICENSE", "LICENSE.txt", "LICENSE.md"].map((file) => join(project, "node_modules", name, file)).find(existsSync);
  if (licence) copyFileSync(licence, join(built, "licences", `${name.replace(/[@/]/g, "_")}.txt`));
}

// What it was made from, so that a test can tell when it is out of date, and which modules nobody uses.
const sources = readdirSync(page, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && /\.(js|mjs|css|html|svg)$/.test(entry.name))
  .map((entry) => relative(page, join(entry.parentPath ?? entry.path, entry.name)).split(sep).join("/"))
  .filter((path) => !path.startsWith("built/"))
  .sort();
const hash = createHash("sha256");
for (const path of sources) hash.update(`${path}\0`).update(readFileSync(join(page, path))).update("\0");
const used = [scripts, styles, theme].flatMap(({ metafile }) => Object.keys(metafile.inputs)).filter((path) => !path.includes("node_modules"));
writeFileSync(join(built, "sources.json"), `${JSON.stringify({ sha256: hash.digest("hex"), used: [...new Set(used)].sort() })}\n`);
