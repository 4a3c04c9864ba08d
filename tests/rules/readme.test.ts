/** The README's own job, picture and links. */
import { existsSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readJob } from '../../src/job.ts';
import { ROOT, readBesides } from '../helpers.ts';

const text = readFileSync(join(ROOT, 'README.md'), 'utf8');

describe('the README', () => {
  it('shows a job that reads without a fault, also with a $schema for the editor', () => {
    const job = /```jsonc\n([\s\S]*?)```/.exec(text)![1]!;
    for (const t of [job, job.replace('{', '{ "$schema": "node_modules/tabwright/dist/job.schema.json",')]) {
      const read = readJob(t, 'job.json', { read: readBesides(join(ROOT, 'samples')) });
      expect(read.problems.filter((p) => p.severity === 'fault')).toEqual([]);
      expect(read.ok).toBe(true);
    }
  });

  it('links to what is there, and to one picture of at most 200 kB', () => {
    const links = [...text.matchAll(/\]\(([^)#:]+)\)/g)].map((m) => m[1]!);
    expect(links.length).toBeGreaterThan(3);
    expect(links.filter((l) => !existsSync(join(ROOT, l)))).toEqual([]);
    const pictures = [...text.matchAll(/!\[[^\]]*\]\(([^)]+)\)/g)].map((m) => m[1]!);
    expect(pictures).toHaveLength(1);
    expect(statSync(join(ROOT, pictures[0]!)).size).toBeLessThan(200_000);
  });

  it('names every command and every script it speaks of', () => {
    const scripts = Object.keys(JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')).scripts);
    const both = text + readFileSync(join(ROOT, 'DEVELOPERS.md'), 'utf8');
    const named = [...both.matchAll(/npm run ([a-z]+)/g)].map((m) => m[1]!);
    expect(named.length).toBeGreaterThan(3);
    expect(named.filter((n) => !scripts.includes(n))).toEqual([]);
    const commands = [...readFileSync(join(ROOT, 'src/cli/main.ts'), 'utf8').matchAll(/\.command\('(\w+)'\)/g)];
    expect(commands.length).toBeGreaterThan(4);
    for (const [, name] of commands) expect(text).toContain(`**\`tabwright ${name} `);
  });
});
