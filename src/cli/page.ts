/** The page of a made job or of a lone program, as text ready to be written. */
import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { bad, fault, good, type Outcome } from '../base/problem.ts';
import type { Report } from '../check/report.ts';
import type { Course } from '../course/course.ts';
import type { Made } from '../job.ts';
import { viewData } from '../show/page/data/make-view-data.ts';
import type { PageReader } from '../show/page/data/read-program.ts';
import { type PageBundle, viewPage } from '../show/page/html.ts';
import { jobPage as pageOf } from '../show/page/job-page.ts';

/** `read` is the check's reader: the page shows what the text does, whatever wrote it. */
export function jobPage(made: Made, course: Course | null, read: PageReader): Outcome<string> {
  const bundle = pageBundle();
  if (!bundle.ok) return bundle;
  return good(pageOf({ ...made, course }, bundle.value, read));
}

export function programPage(file: string, text: string, report: Report, read: PageReader): Outcome<string> {
  const bundle = pageBundle();
  if (!bundle.ok) return bundle;
  const programs = [{ file, text, setup: 0, operations: [] }];
  const none = { job: null, plan: null, holding: null, course: null };
  return good(viewPage(viewData({ ...none, name: file, programs, report, read }), bundle.value));
}

/** Script and worker as built beside the command; a run from source takes those of the last build. */
function pageBundle(): Outcome<PageBundle> {
  const here = dirname(fileURLToPath(import.meta.url));
  const folder = [here, join(here, '..', '..', 'dist')].find(
    (f) => existsSync(join(f, 'page.js')) && existsSync(join(f, 'worker.js')),
  );
  if (folder === undefined) {
    return bad(
      fault({
        code: 'page-missing',
        at: { file: join(here, 'page.js') },
        found: 'the page’s script is not beside the command',
        wanted: 'page.js and worker.js in dist',
        remedy: 'build again',
      }),
    );
  }
  const text = (name: string) => readFileSync(join(folder, name), 'utf8');
  const hash = (of: string) => createHash('sha256').update(of).digest('base64');
  return good({ script: text('page.js'), worker: text('worker.js'), hash });
}
