/** The bare words of a program as this reader reads them, for comparison with another reader. */
import { emptyBlock, given } from './block.ts';
import { LAST_PARAMETER, cursor as newCursor } from './cursor.ts';
import { readLine } from './words.ts';

export interface PlainLine {
  /** Line number from 1. */
  readonly block: number;
  /** In order of letter; G and M words in the order written. */
  readonly words: readonly { readonly letter: string; readonly value: number }[];
}

/** Every line up to the closing percent sign; lines that do not read are given without words. */
export function readWords(text: string): PlainLine[] {
  const cursor = newCursor(new Float64Array(LAST_PARAMETER + 1));
  const block = emptyBlock();
  const out: PlainLine[] = [];
  text.split(/\r\n|\r|\n/).forEach((line, i) => {
    const words: { letter: string; value: number }[] = [];
    if (line.trim() !== '%' && readLine(cursor, block, line, 0, line.length)) {
      for (let k = 0; k < block.gCount; k++) words.push({ letter: 'G', value: block.g[k]! / 10 });
      for (let k = 0; k < block.mCount; k++) words.push({ letter: 'M', value: block.m[k]! });
      for (let letter = 0; letter < 26; letter++) {
        const name = String.fromCharCode(65 + letter);
        if (name !== 'G' && name !== 'M' && given(block, letter))
          words.push({ letter: name, value: block.value[letter]! });
      }
    }
    out.push({ block: i + 1, words });
  });
  return out;
}
