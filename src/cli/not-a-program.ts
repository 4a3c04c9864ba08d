/** Files given where a program was wanted. Text of no known kind is read, so that a spoiled program is told where it is spoiled. */
import { KIND_WORDS, kindOfText } from '../base/kind-of-text.ts';
import { fault, type Problem } from '../base/problem.ts';

/** null: the text that begins so may be a program. */
export function notAProgram(start: string, file: string): Problem | null {
  const kind = kindOfText(start);
  if (kind === null || kind === 'program') return null;
  const { found, remedy } = KIND_WORDS[kind];
  return fault({
    code: 'not-a-program',
    at: { file },
    found,
    wanted: 'a program',
    remedy: remedy.replaceAll('FILE', file),
  });
}
