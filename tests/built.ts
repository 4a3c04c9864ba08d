/** Before the tests: the built command is younger than the sources, or it is built. `npm test` has built it already. */
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';

const ROOT = resolve(import.meta.dirname, '..');
export const COMMAND: string = join(ROOT, 'dist/tabwright.mjs');

export function setup(): void {
  // Runs on other folders do not need the command.
  const filters = process.argv.slice(2).filter((a) => /^(\.\/)?tests\/\w/.test(a) && !a.endsWith('.config.ts'));
  if (filters.length > 0 && !filters.some((f) => f.includes('tests/cli'))) return;
  if (!isStale()) return;
  const built = spawnSync(process.execPath, [join(ROOT, 'src/bundle.mjs'), '--no-types'], { encoding: 'utf8' });
  if (built.status !== 0) throw new Error(`the command does not build:\n${built.stderr}`);
}

function isStale(): boolean {
  if (!existsSync(COMMAND)) return true;
  const built = statSync(COMMAND).mtimeMs;
  return readdirSync(join(ROOT, 'src'), { recursive: true, encoding: 'utf8' })
    .map((f) => statSync(join(ROOT, 'src', f)))
    .some((s) => s.isFile() && s.mtimeMs > built);
}
