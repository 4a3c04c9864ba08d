/** The library's types as one file that imports nothing: what the compiler emits for each source, joined. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { rollup } from 'rollup';
import { dts } from 'rollup-plugin-dts';

export async function bundleTypes(root, file) {
  const folder = mkdtempSync(join(tmpdir(), 'tabwright-types-'));
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  try {
    execFileSync(process.execPath, [tsc, '-p', join(root, 'src/tsconfig.types.json'), '--outDir', folder], {
      stdio: 'inherit',
    });
    const joined = await rollup({ input: join(folder, 'index.d.ts'), plugins: [dts()] });
    await joined.write({ file, format: 'es' });
  } finally {
    rmSync(folder, { recursive: true });
  }
}
