/** Bundles the page's script and its worker, each one classic script (a module worker does not start from a page opened from disk). */
import { join } from 'node:path';
import { build } from 'esbuild';
import { licenceTexts, packagesIn } from '../../licences.mjs';

/**
 * Each begins with the licences of the packages whose code it carries, since the page goes from hand to hand.
 * @returns {Promise<{script: string, worker: string, packages: string[]}>}
 */
export async function bundlePage(root) {
  const one = async (entry) => {
    const result = await build({
      absWorkingDir: root,
      entryPoints: [join(root, 'src/show/page', entry)],
      bundle: true,
      write: false,
      metafile: true,
      format: 'iife',
      platform: 'browser',
      target: 'es2022',
      minify: true,
      legalComments: 'none',
      charset: 'utf8',
      logLevel: 'warning',
    });
    const packages = packagesIn(result.metafile);
    const text = result.outputFiles[0].text;
    return { packages, text: packages.length > 0 ? `/*!\n${licenceTexts(root, packages)}*/\n${text}` : text };
  };
  const [script, worker] = await Promise.all([one('app/main.ts'), one('worker/worker.ts')]);
  return { script: script.text, worker: worker.text, packages: [...script.packages, ...worker.packages] };
}
