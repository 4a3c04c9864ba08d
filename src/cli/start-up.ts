/** Entry of the published command. A test that loads it gets `main` and runs nothing by that. */
import './engine.ts';
import { realpathSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { main } from './main.ts';

export { main };

/** A package manager starts the command through a link. */
function isStarted(): boolean {
  const started = process.argv[1];
  return started !== undefined && realpathSync(started) === fileURLToPath(import.meta.url);
}

if (isStarted()) await main(process.argv.slice(2));
