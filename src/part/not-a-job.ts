/** Files given where a job was wanted. */
import { KIND_WORDS, kindOfText } from '../base/kind-of-text.ts';
import { fault, type Problem } from '../base/problem.ts';

/** null: the text may be a job. */
export function notAJob(text: string, file: string): Problem | null {
  const kind = kindOfText(text);
  if (kind === null || kind === 'job') return null;
  const { found, remedy } = KIND_WORDS[kind];
  return fault({
    code: 'not-a-job',
    at: { file },
    found,
    wanted: 'a job file in JSON',
    remedy: remedy.replaceAll('FILE', file),
  });
}
