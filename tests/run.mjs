/**
 * `npm test`: types, lint, import cycles and every test, on a bare clone or a used one.
 * The last line counts the tests; without a browser it says which tests were left out.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { findOrInstallBrowser } from './browser.mjs';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const OUTPUT = join(ROOT, 'tests/.output');
const started = Date.now();

const bin = (name, ...path) => join(ROOT, 'node_modules', name, ...path);
const BUILD = ['build', [join(ROOT, 'src/bundle.mjs'), '--no-types']];
const STEPS = [
  // What has not changed since the run before need not be read again: a third of the time.
  [
    'types',
    [bin('typescript', 'bin/tsc'), '-p', ROOT, '--incremental', '--tsBuildInfoFile', join(OUTPUT, 'types.json')],
  ],
  // The same files again without the browser's and Node's own names. Short runs look for these names as words (tests/rules).
  process.env.LAWS === 'full' && [
    'types of the pure core',
    [bin('typescript', 'bin/tsc'), '-p', join(ROOT, 'src/tsconfig.pure.json')],
  ],
  ['lint and format', [bin('@biomejs/biome', 'bin/biome'), 'check', '--config-path', join(ROOT, '.biome.json'), ROOT]],
].filter(Boolean);

function step(name, args, env = {}) {
  const begun = Date.now();
  return new Promise((done) => {
    const run = spawn(process.execPath, args, { cwd: ROOT, stdio: 'inherit', env: { ...process.env, ...env } });
    run.on('close', (code) => {
      const seconds = ((Date.now() - begun) / 1000).toFixed(1);
      console.log(`${code === 0 ? 'passed' : 'FAILED'}: ${name} (${seconds} s)`);
      done(code === 0);
    });
  });
}

function countsOf(file) {
  if (!existsSync(file)) return { passed: 0, failed: 1, skipped: 0 };
  const r = JSON.parse(readFileSync(file, 'utf8'));
  return { passed: r.numPassedTests, failed: r.numFailedTests, skipped: r.numPendingTests + r.numTodoTests };
}

mkdirSync(OUTPUT, { recursive: true });
const browser = findOrInstallBrowser();
const report = join(OUTPUT, 'results.json');
rmSync(report, { force: true });
// The tests run what was built. The other steps need nothing and have one thread each, so they fill what the tests leave idle.
const built = await step(...BUILD);
const others = Promise.all(STEPS.map(([name, args]) => step(name, args)));
const unit = await step(
  'tests',
  [
    bin('vitest', 'vitest.mjs'),
    'run',
    '--config',
    join(ROOT, 'tests/vitest.config.ts'),
    '--root',
    ROOT,
    '--reporter=dot',
    '--reporter=json',
    `--outputFile.json=${report}`,
    ...process.argv.slice(2),
  ],
  browser ? { TABWRIGHT_BROWSER: browser } : {},
);
const steps = [built, ...(await others)];
const counts = countsOf(report);
if (!browser) {
  const verdict = process.env.CI
    ? 'this is a failure with CI set'
    : 'install Chromium, Chrome or Edge, or set TABWRIGHT_BROWSER';
  console.log(
    `left out: the page and sheet tests in tests/show/page and tests/show/print, for want of a browser; ${verdict}`,
  );
}
const good = steps.every(Boolean) && unit && counts.failed === 0 && counts.passed > 0 && !(process.env.CI && !browser);
const otherFailures = steps.filter((s) => !s).length;
console.log(`all of it took ${((Date.now() - started) / 1000).toFixed(0)} s`);
console.log(`${counts.passed} passed, ${counts.failed + otherFailures} failed, ${counts.skipped} skipped`);
process.exit(good ? 0 : 1);
