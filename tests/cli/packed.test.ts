/** The package as somebody else has it: built in a folder with a difficult name, packed, installed with nothing beside it, started. */
import { execFileSync } from 'node:child_process';
import { cpSync, mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';
import { everythingIn, scratch, tabwright } from './command.ts';

const { folder, clear } = scratch();
afterAll(clear);
const source = join(folder, 'part #1 of 100%25', 'tower clock');
const home = join(folder, 'empty folder');
const installed = join(home, 'node_modules', 'tabwright');
const manifest = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));

const npm = (cwd: string, ...args: string[]) =>
  execFileSync('npm', [...args, '--ignore-scripts', '--offline', '--no-audit', '--no-fund'], {
    cwd,
    stdio: 'pipe',
    encoding: 'utf8',
    shell: process.platform === 'win32',
  });

beforeAll(() => {
  mkdirSync(home, { recursive: true });
  for (const name of ['src', 'posts', 'samples', 'package.json', 'tsconfig.json', 'README.md', 'LICENSE'])
    cpSync(join(ROOT, name), join(source, name), { recursive: true });
  symlinkSync(join(ROOT, 'node_modules'), join(source, 'node_modules'), 'junction');
  execFileSync(process.execPath, [join(source, 'src', 'bundle.mjs'), '--no-types'], { stdio: 'pipe' });
  npm(source, 'pack', '--pack-destination', home);
  npm(home, 'install', '--prefix', home, join(home, `tabwright-${manifest.version}.tgz`));
}, 300_000);

describe('the packed command', () => {
  it('brings nothing but itself', () => {
    expect(manifest.dependencies).toBeUndefined();
    expect(everythingIn(join(home, 'node_modules')).filter((f) => /^(?!tabwright)[^.\\/][^\\/]*$/.test(f))).toEqual([]);
    expect(everythingIn(join(installed, 'dist'))).toEqual([
      'LICENSES.txt',
      'index.mjs',
      'job.schema.json',
      'page.js',
      'tabwright.mjs',
      'worker.js',
    ]);
  });

  it('runs by its link and makes the stored program', () => {
    const command = join(home, 'node_modules', '.bin', 'tabwright');
    const job = join(installed, 'samples', 'lifting-lever.json');
    const run = tabwright(['make', job, '-o', join(home, 'made')], { command, cwd: home });
    expect(run.code, run.err).toBe(0);
    const stored = join(ROOT, 'tests/cases/lifting-lever/standard/lifting-lever.ngc');
    expect(readFileSync(join(home, 'made', 'lifting-lever.ngc'), 'utf8')).toBe(readFileSync(stored, 'utf8'));
  });

  it('carries the licence of each package whose code it carries, and the page that of its own', () => {
    const texts = readFileSync(join(installed, 'dist', 'LICENSES.txt'), 'utf8');
    for (const name of [
      'commander',
      'flatbush',
      'gcode-parser',
      'jsonc-parser',
      'saxes',
      'svg-pathdata',
      'three',
      'zod',
    ])
      expect(texts).toMatch(new RegExp(`^${name} ${manifest.devDependencies[name].replaceAll('.', '\\.')}$`, 'm'));
    expect(texts.split('Copyright').length).toBeGreaterThan(10);
    const page = readFileSync(join(home, 'made', 'lifting-lever.view.html'), 'utf8');
    expect(page).toMatch(/three \d+\.\d+\.\d+\n\nThe MIT License/);
    expect(page).toContain('three.js authors');
  });
});
