/** The program that README shows, and a folder in which it finds the package as one that was installed. */
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundleTypes } from '../../src/bundle-types.mjs';
import { ROOT } from '../helpers.ts';

export const TSC: string = join(ROOT, 'node_modules/typescript/bin/tsc');

export function readmeProgram(): string {
  const readme = readFileSync(join(ROOT, 'README.md'), 'utf8');
  const shown = [...readme.matchAll(/```ts\n([\s\S]*?)```/g)].map((m) => m[1]!);
  if (shown.length !== 1) throw new Error(`README shows ${shown.length} programs, one is wanted`);
  return shown[0]!;
}

/** With the library as built and its types made anew. */
export async function installed(): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'library-'));
  const home = join(folder, 'node_modules/tabwright');
  mkdirSync(join(home, 'dist'), { recursive: true });
  copyFileSync(join(ROOT, 'package.json'), join(home, 'package.json'));
  copyFileSync(join(ROOT, 'dist/index.mjs'), join(home, 'dist/index.mjs'));
  await bundleTypes(ROOT, join(home, 'dist/index.d.ts'));
  writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
  return folder;
}
