/** The licences of the packages whose code a bundle carries: their terms want the text to go along. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Names of the packages that a bundle took something from, by esbuild's list of what it read. */
export function packagesIn(metafile) {
  const kept = Object.values(metafile.outputs).flatMap((output) => Object.keys(output.inputs));
  const names = kept.flatMap((file) => {
    const path = file.split('node_modules/').at(-1);
    if (path === file) return [];
    const [first, second] = path.split('/');
    return [first.startsWith('@') ? `${first}/${second}` : first];
  });
  return [...new Set(names)].sort();
}

/** One package says its licence in its manifest alone; this is the text of that licence as the Open Source Initiative publishes it. */
const ISC = `Permission to use, copy, modify, and/or distribute this software for any purpose with or without fee is hereby granted, provided that
the above copyright notice and this permission notice appear in all copies.

THE SOFTWARE IS PROVIDED "AS IS" AND THE AUTHOR DISCLAIMS ALL WARRANTIES WITH REGARD TO THIS SOFTWARE INCLUDING ALL IMPLIED WARRANTIES OF
MERCHANTABILITY AND FITNESS. IN NO EVENT SHALL THE AUTHOR BE LIABLE FOR ANY SPECIAL, DIRECT, INDIRECT, OR CONSEQUENTIAL DAMAGES OR ANY
DAMAGES WHATSOEVER RESULTING FROM LOSS OF USE, DATA OR PROFITS, WHETHER IN AN ACTION OF CONTRACT, NEGLIGENCE OR OTHER TORTIOUS ACTION,
ARISING OUT OF OR IN CONNECTION WITH THE USE OR PERFORMANCE OF THIS SOFTWARE.`;

/** Name, version and the text of the licence of each; a package without one is an error. */
export function licenceTexts(root, packages) {
  return packages
    .map((name) => {
      const folder = join(root, 'node_modules', name);
      const { version, license, author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      const file = readdirSync(folder).find((f) => /^licen[cs]e/i.test(f));
      if (file === undefined && license !== 'ISC') throw new Error(`the package ${name} has no licence text`);
      const text =
        file === undefined
          ? `ISC License\n\nCopyright (c) ${author}\n\n${ISC}`
          : readFileSync(join(folder, file), 'utf8').replaceAll('\r', '').trim();
      return `${name} ${version}\n\n${text}\n`;
    })
    .join('\n----\n\n');
}
