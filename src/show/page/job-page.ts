/** The page of a made job. */
import type { Course } from '../../course/course.ts';
import type { Made } from '../../job.ts';
import { viewData } from './data/make-view-data.ts';
import type { PageReader } from './data/read-program.ts';
import { type PageBundle, viewPage } from './html.ts';

/** `course` null: forces and times are not shown. `read` is the check's reader: the page shows what the text does, whatever wrote it. */
export function jobPage(
  made: Omit<Made, 'course'> & { readonly course: Course | null },
  bundle: PageBundle,
  read: PageReader,
): string {
  const { job, plan, holding, programs, course } = made;
  // What the stages before the check had to tell stands on the page too: its heading counts all of it.
  const told = made.told.filter((p) => p.severity === 'caution').map((p) => ({ ...p, program: 0, block: 0 }));
  const report = { ...made.report, cautions: [...told, ...made.report.cautions] };
  return viewPage(viewData({ name: job.name, job, plan, holding, programs, report, course, read }), bundle);
}
