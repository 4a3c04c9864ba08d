/**
 * Builds dist/: the command, the library and the JSON Schema of the job file; `--no-types` leaves the type declarations out.
 * The command is bundled because start-up is then 1.4 times bare node instead of 2.7.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { bundlePage } from './show/page/bundle.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const at = (...parts) => join(root, ...parts);

/** Packages in the old module form call require; an ES module has none unless it is made. */
const BANNER = {
  js: "import { createRequire as makeRequire } from 'node:module'; const require = makeRequire(import.meta.url);",
};

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
};

/** The package that reads arguments would start other programs for commands that are programs of their own; here is none, and loading what starts them takes time. */
const noChildren = {
  name: 'no children',
  setup(on) {
    on.onResolve({ filter: /^node:child_process$/ }, () => ({ path: 'none', namespace: 'no-children' }));
    on.onLoad({ filter: /.*/, namespace: 'no-children' }, () => ({ contents: 'module.exports = {};' }));
  },
};

mkdirSync(at('dist'), { recursive: true });
await Promise.all([
  // The command is a script, since V8's stored code is for scripts; the entry beside it is a module of a few lines.
  build({
    ...shared,
    format: 'cjs',
    entryPoints: [at('src/cli/main.ts')],
    outfile: at('dist/command.cjs'),
    define: { 'import.meta.url': 'commandUrl' },
    banner: { js: "const commandUrl = require('node:url').pathToFileURL(__filename).href;" },
    minify: true,
    keepNames: false,
    // One byte a letter: read in half the time and kept in half the room (launch.ts).
    charset: 'ascii',
    plugins: [noChildren],
  }),
  build({
    ...shared,
    entryPoints: [at('src/cli/start-up.ts')],
    outfile: at('dist/tabwright.mjs'),
    banner: { js: '#!/usr/bin/env node' },
  }),
  build({ ...shared, entryPoints: [at('src/cli/store-code.ts')], outfile: at('dist/store-code.mjs') }),
  build({ ...shared, entryPoints: [at('src/index.ts')], outfile: at('dist/index.mjs'), banner: BANNER }),
]);
if (readFileSync(at('dist/command.cjs')).some((byte) => byte > 127))
  throw new Error('command.cjs is not ASCII: write such letters of a regular expression as \\u....');
const { emitJobSchema } = await import(`file://${at('dist/index.mjs')}`);
writeFileSync(at('dist/job.schema.json'), `${JSON.stringify(emitJobSchema(), null, 2)}\n`);

// The page's script and worker: the command reads both when it writes a page.
const page = await bundlePage(root);
writeFileSync(at('dist/page.js'), page.script);
writeFileSync(at('dist/worker.js'), page.worker);

// What the sample uses is what most jobs use; the rest is compiled when it is first called.
const folder = mkdtempSync(join(tmpdir(), 'tabwright-build-'));
const stored = spawnSync(
  process.execPath,
  [at('dist/store-code.mjs'), 'make', at('samples/lifting-lever.json'), '-o', folder],
  { stdio: ['ignore', 'ignore', 'pipe'], encoding: 'utf8' },
);
if (stored.status !== 0) console.error(`the sample could not be made with this build:\n${stored.stderr}`);
rmSync(folder, { recursive: true });
rmSync(at('dist/store-code.mjs'));

if (!process.argv.includes('--no-types')) {
  rmSync(at('dist/types'), { recursive: true, force: true });
  const tsc = at('node_modules/typescript/bin/tsc');
  execFileSync(process.execPath, [tsc, '-p', at('src/tsconfig.types.json')], { stdio: 'inherit' });
}
