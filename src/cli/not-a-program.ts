/** Files that are no program with faults, but the wrong file. Anything else is read and told as it reads. */
import { fault, type Problem } from '../base/problem.ts';

/** By its beginning: a job, a drawing or a page is none. Other text is read, so that a spoiled program is told where it is spoiled. */
export function mayBeProgram(start: string): boolean {
  return !/^\uFEFF?\s*([{[<#]|\/[/*]|0\r?\n\s*SECTION\b)/.test(start);
}

export function noProgram(file: string): Problem {
  return fault(
    'not-a-program',
    'a job, a drawing or a page',
    'a program',
    'make a job with "tabwright make", read a drawing with "tabwright outline"',
    { file },
  );
}
