/** The library as somebody else's program sees it: the built package, its types, in Node and in a browser's worker. */
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../helpers.ts';
import { leverOnPlate } from '../lever-job.ts';
import { BROWSER, launch } from '../show/page/browse.ts';
import { installed, readmeProgram, TSC } from './readme-program.ts';

let folder: string;
let said: string;

beforeAll(async () => {
  folder = await installed();
  writeFileSync(join(folder, 'program.mjs'), readmeProgram());
  said = execFileSync(process.execPath, ['program.mjs'], { cwd: folder, encoding: 'utf8' });
}, 600_000);
afterAll(() => rmSync(folder, { recursive: true }));

function typesOf(program: string, resolution: readonly string[]): string {
  writeFileSync(join(folder, 'typed.ts'), program);
  const base = ['--noEmit', '--strict', '--target', 'es2023', '--lib', 'es2023,dom'];
  const ran = spawnSync(process.execPath, [TSC, 'typed.ts', ...base, ...resolution], { cwd: folder, encoding: 'utf8' });
  return ran.stdout;
}

describe.each([
  ['NodeNext', ['--module', 'nodenext', '--moduleResolution', 'nodenext']],
  ['bundler', ['--module', 'esnext', '--moduleResolution', 'bundler']],
])('types under %s resolution', (_, resolution) => {
  it('fit the program that README shows', () => {
    expect(typesOf(readmeProgram(), resolution)).toBe('');
  });

  it('are types, not any: a misspelt key is found', () => {
    const wrong = readmeProgram().replace('holding.tabs.length', 'holding.tags.length');
    const told = typesOf(wrong, resolution).trim().split('\n');
    expect(told).toHaveLength(1);
    expect(told[0]).toContain("Property 'tags' does not exist");
  });
});

describe('the program that README shows', () => {
  it('makes a lever in inches, held by tabs, with sheet and page', () => {
    expect(said).toMatch(/^lever\.ngc %\n/);
    expect(said).toContain('G20');
    expect(said).toMatch(/\n[1-9] tabs true\ntrue true\n/);
    expect(said).toMatch(/\n0 faults [1-9]\d* proven\n$/);
  });

  it.skipIf(BROWSER === null)(
    'says the same in a browser worker, byte for byte',
    async () => {
      const bundled = await build({
        entryPoints: [join(folder, 'program.mjs')],
        bundle: true,
        write: false,
        format: 'iife',
        platform: 'browser',
        logLevel: 'error',
      });
      const program = `const lines = []; console.log = (...words) => lines.push(words.join(' '));\n${bundled.outputFiles[0]!.text}\npostMessage(lines.join('\\n') + '\\n');`;
      const browser = await launch();
      try {
        const tab = await browser.newPage();
        const there = await tab.evaluate(
          (code) =>
            new Promise<string>((done, fail) => {
              const worker = new Worker(URL.createObjectURL(new Blob([code])));
              worker.onmessage = (e) => done(e.data);
              worker.onerror = (e) => fail(new Error(e.message));
            }),
          program,
        );
        expect(there).toBe(said);
      } finally {
        await browser.close();
      }
    },
    300_000,
  );
});

describe('input', () => {
  it('as text, with files, with a post of its own, and bad input as problems', async () => {
    const library: typeof import('../../src/index.ts') = await import(pathToFileURL(join(ROOT, 'dist/index.mjs')).href);
    const { make, check, open } = library;
    const drawn = {
      material: 'CuZn39Pb3',
      part: { thickness: 2, outline: { svg: 'plate.svg' } },
    };
    const svg =
      '<svg xmlns="http://www.w3.org/2000/svg" width="30mm" height="20mm" viewBox="0 0 30 20"><path d="M0 0H30V20H0Z"/></svg>';
    const post = JSON.parse(readFileSync(join(ROOT, 'posts/plain.json'), 'utf8'));
    const made = make(drawn, { files: { 'plate.svg': new TextEncoder().encode(svg) }, post });
    expect(made.problems.filter((p) => p.severity === 'fault')).toEqual([]);
    expect(made.ok && made.value.report.faults).toEqual([]);
    expect(make(drawn).problems.map((p) => p.code)).toContain('file-missing');
    expect(make('{ "material": "CuZn39Pb3",').ok).toBe(false);
    expect(make(leverOnPlate(), { post: 'toString' }).problems.map((p) => p.code)).toContain('unknown-post');
    const alone = check('%\nG1 X\n%\n');
    expect(alone.ok && alone.value.faults.length).toBeGreaterThan(0);
    const session = open(leverOnPlate(), { stopped: () => true });
    expect(session.ok && session.value.finish()).toEqual({ kind: 'stopped' });
  });
});
