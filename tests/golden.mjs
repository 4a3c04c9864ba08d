/**
 * `npm run golden`: remakes the expected programs in tests/cases from the samples, and the list of problem codes in the README, and prints which changed. Read the diff
 * before committing it: these files are what the tests hold the program to. Never run by `npm test`.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { codeList } from './rules/codes.mjs';

const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));
const CASES = join(ROOT, 'tests/cases');
const { every, also } = JSON.parse(readFileSync(join(CASES, 'cases.json'), 'utf8'));
const samples = readdirSync(join(ROOT, 'samples'))
  .filter((f) => f.endsWith('.json'))
  .map((f) => basename(f, '.json'));

execFileSync(process.execPath, [join(ROOT, 'src/bundle.mjs'), '--no-types'], { stdio: 'inherit' });
const counts = { new: 0, changed: 0, gone: 0, same: 0, refused: 0 };
const scratch = mkdtempSync(join(tmpdir(), 'tabwright-golden-'));
for (const sample of samples) {
  for (const post of postsOf(sample)) remake(sample, post);
}
for (const folder of readdirSync(CASES, { withFileTypes: true }).filter((f) => f.isDirectory())) {
  const posts = samples.includes(folder.name) ? postsOf(folder.name) : [];
  for (const post of readdirSync(join(CASES, folder.name))) {
    if (!posts.includes(post)) drop(join(folder.name, post));
  }
  if (posts.length === 0) rmSync(join(CASES, folder.name), { recursive: true });
}
rmSync(scratch, { recursive: true });
listCodes();
console.log(
  Object.entries(counts)
    .map(([what, n]) => `${n} ${what}`)
    .join(', '),
);
process.exit(counts.refused > 0 ? 1 : 0);

/** The problem codes in the README. */
function listCodes() {
  const path = join(ROOT, 'README.md');
  const old = readFileSync(path, 'utf8');
  const mark = /(<!-- codes -->\n\n)[\s\S]*?(\n<!-- end of codes -->)/;
  const text = old.replace(mark, (_all, before, after) => before + codeList(ROOT) + after);
  if (text === old) return;
  writeFileSync(path, text);
  tell('changed', 'README.md, list of problem codes');
}

function postsOf(sample) {
  return [...every, ...(also[sample] ?? [])];
}

function remake(sample, post) {
  const made = join(scratch, sample, post);
  const args = ['dist/tabwright.mjs', 'make', `samples/${sample}.json`, '--post', post, '-o', made];
  const run = spawnSync(process.execPath, args, { cwd: ROOT, encoding: 'utf8' });
  if (run.status !== 0) {
    tell('refused', `${sample}/${post}: ${run.stderr.split('\n').find((l) => l.startsWith('fault'))}`);
    return;
  }
  const kept = join(CASES, sample, post);
  mkdirSync(kept, { recursive: true });
  const names = readdirSync(made).filter((n) => n.endsWith('.ngc'));
  for (const name of names) {
    const text = readFileSync(join(made, name), 'utf8');
    const path = join(kept, name);
    const old = existsSync(path) ? readFileSync(path, 'utf8') : null;
    if (old === text) counts.same++;
    else {
      writeFileSync(path, text);
      tell(old === null ? 'new' : 'changed', `${sample}/${post}/${name}`);
    }
  }
  for (const name of readdirSync(kept)) if (!names.includes(name)) drop(join(sample, post, name));
}

function drop(path) {
  rmSync(join(CASES, path), { recursive: true });
  tell('gone', path);
}

function tell(what, path) {
  counts[what]++;
  console.log(`${what}: ${path}`);
}
