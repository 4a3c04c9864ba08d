/** Bundles the page's script and its worker, each one classic script (a module worker does not start from a page opened from disk). */
import { join } from 'node:path';
import { build } from 'esbuild';

/** @returns {Promise<{script: string, worker: string}>} */
export async function bundlePage(root) {
  const one = async (entry) => {
    const result = await build({
      absWorkingDir: root,
      entryPoints: [join(root, 'src/show/page', entry)],
      bundle: true,
      write: false,
      format: 'iife',
      platform: 'browser',
      target: 'es2022',
      minify: true,
      legalComments: 'none',
      charset: 'utf8',
      logLevel: 'warning',
    });
    return result.outputFiles[0].text;
  };
  const [script, worker] = await Promise.all([one('app/main.ts'), one('worker/worker.ts')]);
  return { script, worker };
}
