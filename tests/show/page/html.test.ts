import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { viewPage } from '../../../src/show/page/html.ts';
import { leverJob } from '../../check/lever.ts';
import { leverView } from './fixture.ts';

const bundle = { script: 'const a = "</script><!--";', worker: 'const b = "</SCRIPT>$&";' };

describe('the page’s text', () => {
  const page = viewPage(leverView(), bundle);

  it('is the same bytes for the same input', () => {
    expect(viewPage(leverView(), bundle)).toBe(page);
  });

  it('lets no script text end its element', () => {
    expect(page.match(/<\/script/gi)).toHaveLength(3);
    expect(page).not.toContain('<!--');
    expect(page).toContain('<\\/SCRIPT>$&');
  });

  it('names its own script and style by hash and allows no other', () => {
    const policy = /Content-Security-Policy" content="([^"]*)"/.exec(page)![1]!;
    const script = page.slice(page.lastIndexOf('<script>') + 8, page.lastIndexOf('</script>'));
    const style = page.slice(page.indexOf('<style>') + 7, page.indexOf('</style>'));
    const hash = (text: string) => `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
    expect(policy).toContain(`script-src ${hash(script)};`);
    expect(policy).toContain(`style-src ${hash(style)};`);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toMatch(/unsafe|https?:|\*/);
  });

  it('takes no markup from a job', () => {
    const evil = '<img src=x onerror=alert(1)>"&';
    const text = viewPage(leverView({}, null, leverJob({ name: evil })), bundle);
    expect(text).not.toContain('<img');
    expect(text).toContain('&lt;img src=x');
  });

  it('says what can be said without a script: verdict, findings, cautions', () => {
    expect(page).toContain('Checked against the job: no fault');
    expect(page).toContain('eye protection');
    const bad = viewPage(leverView({ offset: -0.4 }), bundle);
    expect(bad).toContain('Not released: ');
    expect(bad).toMatch(/data-finding="0">Fault 1/);
  });
});
