/**
 * Builds dist/: the command, the library and the JSON Schema of the job file; `--no-types` leaves the type declarations out.
 * The command is bundled because start-up is then 1.4 times bare node instead of 2.7.
 */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { bundleTypes } from './bundle-types.mjs';
import { licenceTexts, packagesIn } from './licences.mjs';
import { bundlePage } from './show/page/bundle.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const at = (...parts) => join(root, ...parts);

/** Packages in the old module form call require; an ES module has none unless it is made. */
const REQUIRE =
  "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);";

const shared = {
  absWorkingDir: root,
  bundle: true,
  format: 'esm',
  platform: 'node',
  target: 'node20',
  mainFields: ['module', 'main'],
  logLevel: 'warning',
  legalComments: 'eof',
  charset: 'utf8',
  metafile: true,
};

/** The package that reads arguments would start other programs for commands that are programs of their own; here is none, and loading what starts them takes time. */
const noChildren = {
  name: 'no children',
  setup(on) {
    on.onResolve({ filter: /^node:child_process$/ }, () => ({ path: 'none', namespace: 'no-children' }));
    on.onLoad({ filter: /.*/, namespace: 'no-children' }, () => ({ contents: 'module.exports = {};' }));
  },
};

function shippedPosts() {
  const names = readdirSync(at('posts')).filter((name) => name.endsWith('.json'));
  return Object.fromEntries(
    names.map((name) => [basename(name, '.json'), JSON.parse(readFileSync(at('posts', name), 'utf8'))]),
  );
}

mkdirSync(at('dist'), { recursive: true });
// The page's script and worker: the command reads both when it writes a page.
const { packages, ...page } = await bundlePage(root);
const bundles = await Promise.all([
  build({
    ...shared,
    entryPoints: [at('src/cli/start-up.ts')],
    outfile: at('dist/tabwright.mjs'),
    banner: { js: `#!/usr/bin/env node\n${REQUIRE}` },
    minify: true,
    plugins: [noChildren],
  }),
  // For Node and browsers alike: it may import nothing of Node's, and what it needs of the disk is laid in.
  build({
    ...shared,
    platform: 'browser',
    entryPoints: [at('src/index.ts')],
    outfile: at('dist/index.mjs'),
    define: { TABWRIGHT_BUILT_IN: JSON.stringify({ posts: shippedPosts(), page }) },
  }),
]);
const { emitJobSchema } = await import(pathToFileURL(at('dist/index.mjs')).href);
writeFileSync(at('dist/job.schema.json'), `${JSON.stringify(emitJobSchema(), null, 2)}\n`);

const carried = new Set([...packages, ...bundles.flatMap((bundle) => packagesIn(bundle.metafile))]);
writeFileSync(at('dist/LICENSES.txt'), licenceTexts(root, [...carried].sort()));

writeFileSync(at('dist/page.js'), page.script);
writeFileSync(at('dist/worker.js'), page.worker);

if (!process.argv.includes('--no-types')) await bundleTypes(root, at('dist/index.d.ts'));
