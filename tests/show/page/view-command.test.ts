/** `tabwright view` as a function: a lone program, a faulty one, what is not there. */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { viewCommand } from '../../../src/cli/commands/view.ts';
import { jobPage } from '../../../src/cli/page.ts';
import { DONE, FAULTY_PROGRAM, WRONG_INPUT } from '../../../src/cli/say.ts';
import { bundlePage } from '../../../src/show/page/bundle.mjs';
import { leverProgram } from '../../check/lever.ts';
import { mustMakeSample } from '../../helpers.ts';
import { ROOT } from './browse.ts';
import { checkReader } from './fixture.ts';

describe('the view command', () => {
  const folder = mkdtempSync(join(tmpdir(), 'view-'));
  const said: string[] = [];
  beforeAll(async () => {
    vi.spyOn(process.stdout, 'write').mockImplementation((t) => said.push(String(t)) > 0);
    vi.spyOn(process.stderr, 'write').mockImplementation((t) => said.push(String(t)) > 0);
    const dist = join(ROOT, 'dist');
    if (existsSync(join(dist, 'page.js'))) return;
    mkdirSync(dist, { recursive: true });
    const { script, worker } = await bundlePage(ROOT);
    writeFileSync(join(dist, 'page.js'), script);
    writeFileSync(join(dist, 'worker.js'), worker);
  });
  afterAll(() => {
    vi.restoreAllMocks();
    rmSync(folder, { recursive: true });
  });

  it('writes the page of a lone program beside it', () => {
    const program = join(folder, 'lever.ngc');
    writeFileSync(program, leverProgram());
    expect(viewCommand(program, {}, checkReader)).toBe(DONE);
    const page = readFileSync(join(folder, 'lever.view.html'), 'utf8');
    expect(page).toContain('<h1>lever.ngc</h1>');
    expect(page).toContain('no job given: no fault');
    expect(said.join('')).toContain('lever.view.html');
  });

  it('shows a program with a fault, and says so by its exit code', () => {
    const program = join(folder, 'faulty.ngc');
    writeFileSync(program, leverProgram().replace('G80\n', 'G80 G81\n'));
    const out = join(folder, 'shown.html');
    expect(viewCommand(program, { output: out }, checkReader)).toBe(FAULTY_PROGRAM);
    expect(readFileSync(out, 'utf8')).toContain('Not released: ');
  });

  it('shows a made job under its own name', () => {
    const page = jobPage(mustMakeSample('minute-hand'), null, checkReader);
    expect(page.ok && page.value).toContain('<h1>minute hand</h1>');
  });

  it('takes a file that begins like a job for a job, and refuses it as one', () => {
    const path = join(folder, 'hand.json');
    writeFileSync(path, '// a comment\n{ "name": 3 }');
    expect(viewCommand(path, {}, checkReader)).toBe(WRONG_INPUT);
    expect(existsSync(join(folder, 'hand.view.html'))).toBe(false);
  });

  it('refuses what is not there', () => {
    expect(viewCommand(join(folder, 'none.ngc'), {}, checkReader)).toBe(WRONG_INPUT);
    expect(said.join('')).toContain('file-missing');
  });
});
