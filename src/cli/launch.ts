/**
 * What `tabwright` starts: the command's script with the code that V8 made of it when it was built. Compiling the script anew takes
 * about a tenth of a short run. V8 refuses stored code of another version or other flags; then the script is compiled as usual.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';

// A run lasts under a second: optimising as early as for a server took a third of the processor time and gave little back.
setFlagsFromString('--interrupt-budget=400000');
// The room for new objects starts at a megabyte and doubles: what is read in lived through five clearings, each of which moved all of it.
setFlagsFromString('--semi-space-growth-factor=16');

const FOLDER = dirname(fileURLToPath(import.meta.url));
const FILE = join(FOLDER, 'command.cjs');
const STORED_CODE = join(FOLDER, 'command.code');

/** Runs the command on `process.argv`. */
export function launch(): void {
  const text = readFileSync(FILE);
  run(text, storedCode(text));
}

/** The same without stored code, and stores what V8 made on the way: part of the build. */
export function launchAndStore(): void {
  const text = readFileSync(FILE);
  const script = run(text, undefined);
  process.on('exit', () => writeFileSync(STORED_CODE, Buffer.concat([text, script.createCachedData()])));
}

function run(text: Buffer, cachedData: Buffer | undefined): Script {
  // ASCII, as the build sees to: one byte a letter.
  const script = new Script(`(function(require,__filename,module,exports){${text.toString('latin1')}\n})`, {
    filename: FILE,
    ...(cachedData === undefined ? {} : { cachedData }),
  });
  const module: { exports: { main?: (args: readonly string[]) => Promise<void> } } = { exports: {} };
  script.runInThisContext()(createRequire(FILE), FILE, module, module.exports);
  void module.exports.main!(process.argv.slice(2));
  return script;
}

/**
 * Code that was stored of just this text, which stands before it: V8 itself compares no more of a script than its length, and a sum of
 * it takes longer to make, and to load what makes it, than the text to read.
 */
function storedCode(text: Buffer): Buffer | undefined {
  try {
    const stored = readFileSync(STORED_CODE);
    return text.equals(stored.subarray(0, text.length)) ? stored.subarray(text.length) : undefined;
  } catch {
    return undefined;
  }
}
