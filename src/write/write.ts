/** From moves to program text. */
import { kebab } from '../base/text.ts';
import type { Moves, ProgramMoves } from '../paths/moves.ts';
import { headLines } from './head.ts';
import { LineWriter } from './lines.ts';
import type { Post } from './post.ts';
import type { WrittenProgram } from './program.ts';

/** Every program of the job, in running order. File names follow the job's name: one program has no number. */
export function writePrograms(moves: Moves, post: Post, jobName: string): WrittenProgram[] {
  const stem = kebab(jobName);
  return moves.programs.map((program, i) => {
    const suffix = moves.programs.length > 1 ? `-${i + 1}` : '';
    return writeProgram(program, post, `${stem}${suffix}.${post.extension}`);
  });
}

function writeProgram(program: ProgramMoves, post: Post, file: string): WrittenProgram {
  const writer = new LineWriter(post);
  if (post.frame === '%') writer.put('%');
  writer.put(...headLines(program.head, post), startBlock(post));
  const starts: { id: number; title: string; from: number }[] = [];
  program.moves.forEach((move, i) => {
    if (move.kind === 'operation') starts.push({ id: move.id, title: move.title, from: writer.lines.length + 1 });
    writer.write(move, i);
  });
  const last = writer.lines.length;
  writer.put('M2');
  if (post.frame === '%') writer.put('%');
  return {
    file,
    setup: program.setup,
    text: `${writer.lines.join('\n')}\n`,
    operations: starts.map((s, i) => ({ id: s.id, from: s.from, to: (starts[i + 1]?.from ?? last + 1) - 1 })),
    restarts: starts.map((s) => ({ block: s.from, title: s.title })),
    moveOfLine: writer.moveOfLine,
  };
}

/** The whole modal state, so that nothing left by an earlier program matters (NISTIR 6556 section 3.4 lists no defaults). */
function startBlock(post: Post): string {
  const units = post.units === 'mm' ? 'G21' : 'G20';
  return `G17 ${units} G40 G49 G54 G80 G90 G94 G98 ${post.pathControl}`;
}
