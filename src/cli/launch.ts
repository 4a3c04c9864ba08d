/**
 * What `tabwright` starts: the command's script with the code that V8 made of it when it was built. Compiling the script anew takes
 * about a tenth of a short run. V8 refuses stored code of another version or other flags; then the script is compiled as usual.
 */
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';

// A run lasts under a second: optimising as early as for a server took a third of the processor time and gave little back.
setFlagsFromString('--interrupt-budget=400000');

const FOLDER = dirname(fileURLToPath(import.meta.url));
const FILE = join(FOLDER, 'command.cjs');
const STORED_CODE = join(FOLDER, 'command.code');
const MARK_BYTES = 32;

/** Runs the command on `process.argv`. */
export function launch(): void {
  const text = readFileSync(FILE);
  run(text, storedCode(mark(text)));
}

/** The same without stored code, and stores what V8 made on the way: part of the build. */
export function launchAndStore(): void {
  const text = readFileSync(FILE);
  const script = run(text, undefined);
  process.on('exit', () => writeFileSync(STORED_CODE, Buffer.concat([mark(text), script.createCachedData()])));
}

function run(text: Buffer, cachedData: Buffer | undefined): Script {
  const script = new Script(`(function(require,__filename,module,exports){${text.toString()}\n})`, {
    filename: FILE,
    ...(cachedData === undefined ? {} : { cachedData }),
  });
  const module: { exports: { main?: (args: readonly string[]) => Promise<void> } } = { exports: {} };
  script.runInThisContext()(createRequire(FILE), FILE, module, module.exports);
  void module.exports.main!(process.argv.slice(2));
  return script;
}

/** V8 itself compares no more of the script than its length. */
function mark(text: Buffer): Buffer {
  return createHash('sha256').update(text).digest();
}

function storedCode(wanted: Buffer): Buffer | undefined {
  try {
    const stored = readFileSync(STORED_CODE);
    return wanted.equals(stored.subarray(0, MARK_BYTES)) ? stored.subarray(MARK_BYTES) : undefined;
  } catch {
    return undefined;
  }
}
